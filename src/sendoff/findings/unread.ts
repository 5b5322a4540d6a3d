import type { RigState } from '../../logbook/index.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';

/**
 * What stands in the logbook and is not in the judgement: records that this version cannot read. Any of them may say that something
 * failed, so that it is never clear with them. The number is part of the name: one more needs a word of its own.
 */
export function unreadFindings({ unread }: RigState): DraftFinding[] {
  const { newer, broken } = unread;
  return [
    ...finding(
      `rig/newer-${newer}`,
      newer,
      `${entries(newer, 'needs', 'need')} a newer version of this program; what ${newer === 1 ? 'it says' : 'they say'} is not in this judgment.`,
      `Update this program: ${entries(newer, 'needs', 'need')} a newer version`,
    ),
    ...finding(
      `rig/unreadable-${broken}`,
      broken,
      `${entries(broken, 'cannot', 'cannot')} be read; what ${broken === 1 ? 'it says' : 'they say'} is not in this judgment.`,
      `Look under Logbook: ${entries(broken, 'cannot', 'cannot')} be read`,
    ),
  ];
}

const entries = (count: number, one: string, many: string): string =>
  count === 1 ? `1 entry ${one}` : `${count} entries ${many}`;

function finding(id: string, count: number, text: string, action: string): DraftFinding[] {
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
      evidence: [],
      sources: [],
    },
  ];
}
