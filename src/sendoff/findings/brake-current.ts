import { brakeCurrent, type DrumSize } from '../../brakes/index.ts';
import { formatDate } from '../../dates/index.ts';
import { type PartState, quantityFact } from '../../logbook/index.ts';
import { valueIn } from '../../quantity/index.ts';
import { type Context, partName } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';

/** Minutes to measure one brake. Our own estimate. */
const MEASURE_MINUTES = 12;

/**
 * The newest current on record of each electric brake: nothing and a short stop us; too little, and more than is sure to be sound at an
 * unread voltage, are looked at again. A brake of which no
 * current was read says nothing here; that it must be measured is a duty of its own.
 */
export function brakeCurrentFindings(context: Context): DraftFinding[] {
  return context.parts.filter((part) => part.kind === 'drum-brake').flatMap((part) => currentOf(context, part));
}

function currentOf(context: Context, part: PartState): DraftFinding[] {
  const reading = part.readings.get('brake-current')?.at(-1);
  if (!reading) return [];
  const told = brakeCurrent({ brakes: 1, size: sizeOf(part), current: reading.value });
  if (!told.ok) return [];
  const { verdict, expected, most, cautions } = told.value;
  const name = partName(context, part);
  const band = `${context.show(expected.low, 1)} to ${context.show(expected.high, 1)}`;
  const text = `${name}: ${context.show(reading.value)} on ${formatDate(reading.on, 'day')}, in service ${band} at 12 V, at most ${context.show(most, 1)}`;
  const common = {
    id: `brakes/current@${part.id}`,
    group: 'brakes' as const,
    severity: 'safety' as const,
    upkeep: 'measure-brake-current',
    part: part.id,
    evidence: [reading.entry.id],
    sources: ['axle-brake-amps'],
    cautions,
  };
  const entry = { kind: 'reading', part: part.id, what: 'brake-current' } as const;
  const mend = takesSimply(
    `Find the fault in wire, ground or magnet, and measure again: ${name}`,
    MEASURE_MINUTES,
    entry,
    { hands: 'careful owner' },
  );
  if (verdict === 'open' || verdict === 'short') {
    const what = verdict === 'open' ? 'no current, so no brake' : 'more than a sound magnet draws';
    return [{ ...common, kind: 'stop', text: `${text}: ${what}.`, takes: mend, failedBy: reading.entry.id }];
  }
  if (verdict === 'low' || verdict === 'cannot-tell') {
    const what = verdict === 'low' ? 'too little' : 'too much to be sure of without the voltage';
    const keepTo = 'measure again with the voltage at the brake';
    return [{ ...common, kind: 'limit', text: `${text}: ${what}.`, keepTo, takes: mend }];
  }
  return [{ ...common, kind: 'pass', text: `${text}.`, takes: null }];
}

/** By the drum; without it on record, as of the 10 and 12 in drums of most travel trailers. */
function sizeOf(part: PartState): DrumSize {
  const diameter = quantityFact(part, 'drumDiameter');
  const inches = diameter ? valueIn(diameter, 'in') : 12;
  return inches < 8.5 ? '7 in' : inches < 11 ? '10 in' : '12 in';
}
