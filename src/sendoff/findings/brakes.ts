import { daysBetween, formatDate } from '../../dates/index.ts';
import { vehicleOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';
import { brakeCurrentFindings } from './brake-current.ts';
import { upkeepFindings } from './upkeep.ts';

/** Brakes proven or the controller worked on within so many days before leaving: the gain is taken as set. Our own choice. */
const GAIN_DAYS = 7;
/** Minutes on an empty road. Our own estimate. */
const GAIN_MINUTES = 10;
const GAIN_CAUTIONS = [
  'On an empty, dry, level road with nobody behind; never on a descent.',
  'Follow the handbook of the controller; if the trailer does not brake, stop and do not tow on.',
];

/**
 * Brakes, coupling and lights: what must be tested before each leaving, and what failed, as duties of the outlook. The gain of an
 * electric brake controller is set on the road, so that it is a limit and not a stop.
 */
export function brakeFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  return [...upkeepFindings(context, items), ...brakeCurrentFindings(context), ...gainFinding(context)];
}

function gainFinding(context: Context): DraftFinding[] {
  const electric =
    vehicleOf(context.state, 'trailer')?.body.brakes === 'electric' ||
    context.parts.some((part) => part.kind === 'drum-brake');
  if (!electric) return [];
  const worked = context.parts
    .filter((part) => part.kind === 'brake-controller' || part.kind === 'drum-brake')
    .flatMap((part) => [...part.work.values()].flat())
    .filter((work) => work.outcome === 'good' && daysBetween(work.on, context.leave) <= GAIN_DAYS);
  const newest = worked.reduce<(typeof worked)[number] | null>((a, b) => (a === null || b.on > a.on ? b : a), null);
  const base = { id: 'brakes/gain', group: 'brakes' as const, severity: 'safety' as const, sources: ['practice'] };
  if (newest) {
    const text = `Brake gain: brakes worked on and proven on ${formatDate(newest.on, 'no-year')}.`;
    return [{ ...base, kind: 'pass', text, takes: null, evidence: [newest.entry.id] }];
  }
  return [
    {
      ...base,
      kind: 'limit',
      text: 'Brake gain: to be set on the road, for this load: at 20 to 25 mph the trailer brakes firmly and just does not lock.',
      keepTo: 'brake gain set on the first empty level road',
      onLeaving: true,
      takes: takesSimply('Set the brake gain on an empty level road at 20 to 25 mph', GAIN_MINUTES, null),
      cautions: GAIN_CAUTIONS,
      evidence: [],
    },
  ];
}
