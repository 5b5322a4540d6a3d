import type { RigState } from '../../logbook/index.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';

/**
 * What stands in the logbook and is not in the judgement: records that this version cannot read, and entries that cannot be true and
 * that nobody has decided about. Any of them may say that something failed, so that it is never clear with them. The number is part
 * of the name: one more needs a word of its own.
 */
export function unreadFindings({ unread, aside }: RigState): DraftFinding[] {
  const { newer, broken } = unread;
  const undecided = [...aside.values()].filter(({ decision }) => decision === undefined);
  return [
    ...finding(
      `rig/newer-${newer}`,
      newer,
      `${entries(newer, 'needs', 'need')} a newer version of this program; what ${newer === 1 ? 'it says' : 'they say'} is not in this judgment.`,
      'Update this program, then look again',
    ),
    ...finding(
      `rig/unreadable-${broken}`,
      broken,
      `${entries(broken, 'cannot', 'cannot')} be read; what ${broken === 1 ? 'it says' : 'they say'} is not in this judgment.`,
      'Look at what was set aside, under Logbook',
    ),
    ...finding(
      `rig/set-aside-${undecided.length}`,
      undecided.length,
      `${entries(undecided.length, 'says', 'say')} what cannot be true, and ${undecided.length === 1 ? 'does' : 'do'} not count until somebody decides.`,
      'Release or reject what was set aside, under Logbook',
      undecided.map(({ entry }) => entry.id),
    ),
  ];
}

const entries = (count: number, one: string, many: string): string =>
  count === 1 ? `1 entry ${one}` : `${count} entries ${many}`;

function finding(
  id: string,
  count: number,
  text: string,
  action: string,
  evidence: readonly string[] = [],
): DraftFinding[] {
  if (count === 0) return [];
  return [
    {
      id,
      group: 'rig',
      kind: 'unproven',
      severity: 'safety',
      counts: 'limits',
      text,
      takes: takesSimply(action, 5, null),
      evidence,
      sources: [],
    },
  ];
}
