import { chainOf, type Entry, type EntryOf, type RigState } from '../../logbook/index.ts';
import { valueIn } from '../../quantity/index.ts';

/** What came aboard or left since a weighing. */
export interface LoadChanged {
  /** Net pounds of what has a weight on record; what left counts against it. */
  readonly pounds: number;
  readonly entries: readonly Entry[];
}

const after = (entry: Entry, weighing: Entry): boolean =>
  entry.on > weighing.on || (entry.on === weighing.on && entry.id > weighing.id);

/** Loads with a weight that came aboard or left since the weighing, and vehicles enrolled anew. */
export function changedSince(state: RigState, weighing: EntryOf<'weigh'>): LoadChanged {
  const entries: Entry[] = [];
  let pounds = 0;
  for (const [name, subject] of state.subjects) {
    if (!name.startsWith('kit/')) continue;
    const carried = (subject.get('carry') ?? []).filter((entry) => entry.kind === 'carry');
    const before = carried.findLast((entry) => !after(entry, weighing));
    const now = carried.at(-1);
    if (!now || !after(now, weighing)) continue;
    const weight = now.body.weight ?? before?.body.weight;
    const was = before?.body.aboard ? (before.body.weight ?? weight) : undefined;
    const is = now.body.aboard ? weight : undefined;
    const change = (is ? valueIn(is, 'lb') : 0) - (was ? valueIn(was, 'lb') : 0);
    if (change === 0) continue;
    pounds += change;
    entries.push(now);
  }
  for (const role of ['trailer', 'tow'] as const) {
    const chain = chainOf(state, `vehicle/${role}`, 'enroll');
    const newest = chain.at(-1);
    if (newest && chain.length > 1 && after(newest, weighing) && carriesOtherwise(chain)) entries.push(newest);
  }
  return { pounds, entries };
}

/** Whether the newest enrolment is of another vehicle, not the same one with another rating read off its label. */
function carriesOtherwise(chain: readonly Entry[]): boolean {
  const [a, b] = chain.slice(-2);
  if (a?.kind !== 'enroll' || b?.kind !== 'enroll') return false;
  return a.body.name !== b.body.name || a.body.vin !== b.body.vin || a.body.axles !== b.body.axles;
}
