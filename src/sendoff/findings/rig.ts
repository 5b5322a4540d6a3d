import { disagreements, type EntryOf, vehicleOf } from '../../logbook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';
import { listed } from '../words.ts';
import { asideFindings } from './aside.ts';
import { unreadFindings } from './unread.ts';

/** What is asked of the rig as a whole: is it known what pulls, is all of the logbook read, and do two people say different things of one job? */
export function rigFindings(context: Context): DraftFinding[] {
  return [
    ...asideFindings(context),
    ...towVehicle(context),
    ...unreadFindings(context.state),
    ...contradictions(context),
  ];
}

function towVehicle({ state }: Context): DraftFinding[] {
  if (vehicleOf(state, 'tow')) return [];
  return [
    {
      id: 'rig/tow-vehicle',
      group: 'rig',
      kind: 'unproven',
      severity: 'safety',
      text: 'No tow vehicle is enrolled: nothing shows that what pulls may pull this trailer.',
      takes: takesSimply('Enroll the tow vehicle with the ratings on its labels', 15, {
        kind: 'enroll',
        vehicle: 'tow',
      }),
      evidence: [],
      sources: ['fmvss-110'],
    },
  ];
}

/** Two people wrote the newest word on one job, on one day, and one says good and the other failed: nobody knows. */
function contradictions({ state, catalog, parts }: Context): DraftFinding[] {
  return disagreements(state).flatMap(({ part, upkeep, entries }) => {
    const on = entries[0]!.on;
    const known = parts.find((one) => one.id === part);
    const duty = catalog.upkeeps.get(upkeep);
    const words = (known?.work.get(upkeep) ?? []).filter((work) => work.on === on);
    const newest = known?.work.get(upkeep)?.at(-1)?.on === on;
    if (!known || !duty || !newest || new Set(words.map((work) => work.outcome)).size < 2) return [];
    const said = words.map((work) => `${(work.entry as EntryOf<'work'>).by} says ${work.outcome}`);
    const where = known.place === '' ? '' : ` (${known.place})`;
    return [
      {
        id: `rig/disagreement-${upkeep}@${part}`,
        group: 'rig' as const,
        kind: 'unproven' as const,
        severity: duty.severity,
        upkeep,
        part,
        text: `${duty.title}${where}, ${on}: ${listed(said)}. Strike the one that is wrong.`,
        takes: takesSimply('Look again, and strike the entry that is wrong', 10, {
          kind: 'work',
          upkeep,
          parts: [part],
        }),
        evidence: words.map((work) => work.entry.id),
        sources: [...new Set(duty.clocks.map((clock) => clock.source))],
      },
    ];
  });
}
