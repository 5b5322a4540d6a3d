import { formatDate } from '../../dates/index.ts';
import type { Entry, RigState, SetAside } from '../../logbook/index.ts';
import { problemText } from '../../problem/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';

/** Minutes to strike an entry and write it down again. Our own estimate. */
const REWRITE_MINUTES = 5;

/** Kinds of entry of which nothing hangs that keeps a rig safe on the road. */
const HARMLESS: ReadonlySet<Entry['kind']> = new Set(['carry', 'drill', 'waive']);

/**
 * Entries that cannot be true, one finding each: they count for nothing, and what they were to prove is not checked. What the owner
 * rejected is settled.
 */
export function asideFindings({ state }: Pick<Context, 'state'>): DraftFinding[] {
  return undecided(state).map((aside) => ({
    id: `rig/aside-${aside.entry.id.toLowerCase()}`,
    group: 'rig',
    kind: 'unproven',
    severity: HARMLESS.has(aside.entry.kind) ? 'damage' : 'safety',
    text: `${asideText(aside)} It counts for nothing.`,
    takes: takesSimply(
      'Release or reject what was set aside, under Logbook; write down again what was read',
      REWRITE_MINUTES,
      null,
    ),
    evidence: [aside.entry.id],
    sources: ['practice'],
  }));
}

const undecided = (state: RigState): SetAside[] =>
  [...state.aside.values()].filter(({ decision }) => decision !== 'reject');

/** `Entry 01J… of 12 May 2026 (reading) cannot be right: −41 psi is less than can be; expected 0 or more.` */
function asideText({ entry, problems }: SetAside): string {
  const why = problems.map(problemText).join(' ').replace(/\.?$/, '.');
  return `Entry ${entry.id} of ${formatDate(entry.on, 'day')} (${entry.kind}) cannot be right: ${why}`;
}

/** What is set aside of one kind, in words, for an answer that cannot be given without it; empty where there is none. */
export const asideOf = (state: RigState, is: (entry: Entry) => boolean): string =>
  undecided(state)
    .filter(({ entry }) => is(entry))
    .map(asideText)
    .join(' ');
