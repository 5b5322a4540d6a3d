import type { Catalog } from '../catalog/index.ts';
import type { Problem } from '../problem/index.ts';
import { outOfBounds } from './bounds.ts';
import type { Entry } from './entry.ts';
import { settingProblems } from './setting-kinds.ts';

/** Why an entry cannot be true, whatever else the logbook says. */
export interface Doubt {
  /** At least one. */
  readonly problems: readonly Problem[];
  /** True where the owner may let it count all the same: it is most unlikely, and harms nothing. */
  readonly releasable: boolean;
}

/** Judges one entry by itself, the same on every device and in any order of arrival; undefined where it may be true. */
export type Judge = (entry: Entry) => Doubt | undefined;

/** The key of the setting by which the owner decides about an entry that was set aside: `quarantine/` and its id in small letters. */
export const QUARANTINE = 'quarantine';
export const quarantineKey = (id: string): string => `${QUARANTINE}/${id.toLowerCase()}`;

/** The id a setting decides about, or undefined where it decides about none. */
export function decidedId(entry: Entry): string | undefined {
  if (entry.kind !== 'set' || !entry.body.key.startsWith(`${QUARANTINE}/`)) return undefined;
  return entry.body.key.slice(QUARANTINE.length + 1).toUpperCase();
}

/**
 * The judge of a catalog: with it the ranges of its readings and facts are known too. Problems: `logbook.bounds`,
 * `logbook.strike-itself`, `logbook.setting-value`.
 */
export function judgeBy(catalog?: Catalog): Judge {
  const made = catalog && judges.get(catalog);
  if (made) return made;
  const judge = newJudge(catalog);
  if (catalog) judges.set(catalog, judge);
  return judge;
}

/** One judge a catalog, so that states folded by it are known again. */
const judges = new WeakMap<Catalog, Judge>();

function newJudge(catalog: Catalog | undefined): Judge {
  const known = new WeakMap<Entry, Doubt | 'none'>();
  return (entry) => {
    const before = known.get(entry);
    if (before !== undefined) return before === 'none' ? undefined : before;
    const doubt = totally(entry, catalog);
    known.set(entry, doubt ?? 'none');
    return doubt;
  };
}

/** The judge that knows no catalog: what no rig of any kind can have done or shown. */
export const judgeAlone: Judge = judgeBy();

/** An entry that breaks what it is judged by (a hand wrote it into the file) is set aside, and ends nothing. */
function totally(entry: Entry, catalog: Catalog | undefined): Doubt | undefined {
  try {
    return doubtOf(entry, catalog);
  } catch {
    const where = `${entry.kind} of ${entry.on}`;
    return {
      problems: [{ code: 'logbook.entry-invalid', what: 'What it says cannot be judged', where }],
      releasable: false,
    };
  }
}

function doubtOf(entry: Entry, catalog: Catalog | undefined): Doubt | undefined {
  const where = `${entry.kind} of ${entry.on}`;
  // Planned too far ahead of the day it was written: by today's date a device with a wrong clock would judge otherwise than the next.
  const bounds = outOfBounds(entry, entry.at.slice(0, 10), catalog).filter(({ unread }) => !unread);
  const never = bounds.filter(({ never }) => never);
  const problems = bounds.map(
    ({ path, what, expected }): Problem => ({
      code: 'logbook.bounds',
      what,
      where: `${where}: ${path}`,
      expected,
    }),
  );
  const broken = [...strikesItself(entry, where), ...settingProblems(entry, where)];
  if (problems.length + broken.length === 0) return undefined;
  // What decides or takes out must not depend on decisions in its turn.
  const decides = entry.kind === 'strike' || decidedId(entry) !== undefined;
  return { problems: [...broken, ...problems], releasable: broken.length + never.length === 0 && !decides };
}

/** Problems: `logbook.strike-itself`. */
export function strikesItself(entry: Entry, where: string): Problem[] {
  if (entry.kind !== 'strike' || entry.body.entry !== entry.id) return [];
  return [
    { code: 'logbook.strike-itself', what: 'This strike strikes itself', where, expected: 'the id of another entry' },
  ];
}
