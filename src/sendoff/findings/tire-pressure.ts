import type { Upkeep } from '../../catalog/index.ts';
import { addDays, daysBetween, formatDate } from '../../dates/index.ts';
import { quantityFact, type WorkFact } from '../../logbook/index.ts';
import { type Quantity, valueIn } from '../../quantity/index.ts';
import { type Context, partName } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { isNewer, lastGood } from '../evidence.ts';
import { cautionsOf, takesDoing, takesSimply } from '../takes.ts';
import type { Takes } from '../types.ts';
import { capital, listed } from '../words.ts';
import {
  atColdest,
  type ColdPressure,
  coldPressure,
  GAUGE_ERROR,
  PROOF_DAYS,
  psiOver,
  REFERENCE_TEMPERATURE,
  type RequiredPressure,
  requiredPressure,
  type TireOnRig,
} from './tire-facts.ts';

/** Minutes to read and fill one tire, where the catalog has no upkeep for it. Our own estimate. */
const MINUTES = 5;

/**
 * Cold pressure of every tire: brought to one temperature and height, against what its load needs. A reading proves it for a day
 * before leaving, on a spare for thirty; before that it is a thing to do on leaving, unless what was read last is too low already.
 */
export function pressureFindings(context: Context, tires: readonly TireOnRig[]): DraftFinding[] {
  const looked = tires.map((tire) => look(context, tire));
  const early = looked.filter((one) => one.verdict === 'early');
  const rounds = (['running', 'tow'] as const).flatMap((role) => {
    const round = early.filter((one) => one.tire.role === role);
    return round.length === 0 ? [] : [onLeaving(context, role, round)];
  });
  const single = looked.filter((one) => one.verdict !== 'early' || one.tire.role === 'spare');
  return [...single.map((one) => finding(context, one)), ...rounds, ...coldMornings(context, looked)];
}

interface Looked {
  readonly tire: TireOnRig;
  readonly required: RequiredPressure | null;
  readonly cold: ColdPressure | null;
  readonly verdict: 'no figure' | 'no reading' | 'low' | 'early' | 'stale' | 'unsure' | 'high' | 'good';
  readonly max: Quantity | null;
  /** Work that set it since it was last read. */
  readonly set: WorkFact | null;
}

function look(context: Context, tire: TireOnRig): Looked {
  const required = requiredPressure(context, tire);
  const cold = coldPressure(context, tire.part);
  const max = lowestMax(context, tire);
  const set = setSince(context, tire, cold);
  const known = { tire, required, cold, max, set };
  if (!required) return { ...known, verdict: 'no figure' };
  if (set) return { ...known, verdict: byAge(context, tire, daysBetween(set.on, context.leave)) ?? 'good' };
  if (!cold) return { ...known, verdict: 'no reading' };
  const error = valueIn(GAUGE_ERROR, 'psi');
  if (psiOver(cold.high, required.pressure) < -error) return { ...known, verdict: 'low' };
  const old = byAge(context, tire, cold.daysOld);
  if (old) return { ...known, verdict: old };
  if (psiOver(cold.low, required.pressure) < -error) return { ...known, verdict: 'unsure' };
  if (max !== null && psiOver(cold.low, max) > error) return { ...known, verdict: 'high' };
  return { ...known, verdict: 'good' };
}

/** A proof too old for its kind: not to be had yet, or not there when it should be. */
function byAge(context: Context, tire: TireOnRig, daysOld: number): 'early' | 'stale' | null {
  const holds = PROOF_DAYS[tire.role];
  if (daysOld <= holds) return null;
  return context.now < addDays(context.leave, -holds) ? 'early' : 'stale';
}

/** The newest work that set this pressure without writing it down, if nothing was read since. */
function setSince(context: Context, { part }: TireOnRig, cold: ColdPressure | null): WorkFact | null {
  const upkeep = pressureUpkeep(context, part.kind);
  if (!upkeep) return null;
  const last = lastGood(context, part, upkeep);
  if (last === null || cold === null) return last;
  return isNewer(last, cold.reading) ? last : null;
}

/** The lowest of the sidewall's and the wheel's own limit. */
function lowestMax({ parts }: Context, tire: TireOnRig): Quantity | null {
  const wheel = parts.find((part) => part.kind === 'wheel' && part.place !== '' && part.place === tire.part.place);
  const limits = [tire.pressureColdMax, wheel ? quantityFact(wheel, 'pressureMax') : null].filter(
    (one) => one !== null,
  );
  return limits.reduce<Quantity | null>((low, one) => (low === null || psiOver(one, low) < 0 ? one : low), null);
}

/** The catalog's upkeep that keeps a pressure on this kind of part. */
export function pressureUpkeep({ catalog }: Context, kind: string): Upkeep | undefined {
  return (catalog.upkeepsOf.get(kind) ?? []).find((upkeep) =>
    upkeep.clocks.some((clock) => clock.kind === 'limit' && clock.reading === 'pressure-cold'),
  );
}

function takesFilling(context: Context, tire: TireOnRig, action: string): Takes {
  const upkeep = pressureUpkeep(context, tire.part.kind);
  const entry = { kind: 'reading', part: tire.part.id, what: 'pressure-cold' } as const;
  return upkeep
    ? takesDoing(context, upkeep, [], { action, minutes: upkeep.minutes, entry })
    : takesSimply(action, MINUTES, entry);
}

function base(context: Context, { tire, required, cold, set }: Looked) {
  const upkeep = pressureUpkeep(context, tire.part.kind);
  const way = upkeep?.goWithLimits;
  return {
    id: `tires/pressure@${tire.part.id}`,
    group: 'tires' as const,
    severity: 'safety' as const,
    upkeep: upkeep?.id ?? null,
    part: tire.part.id,
    evidence: [
      ...new Set([...(set ? [set.entry.id] : cold ? [cold.reading.entry.id] : []), ...(required?.evidence ?? [])]),
    ],
    sources: [...new Set([...(required?.sources ?? []), ...(way ? [way.source] : [])])],
    cautions: upkeep ? cautionsOf(context, upkeep) : [],
    ...(way ? { goWithLimits: way.text } : {}),
  };
}

function finding(context: Context, looked: Looked): DraftFinding {
  const { tire, required, cold, set, verdict } = looked;
  const name = partName(context, tire.part);
  const common = base(context, looked);
  const { goWithLimits, ...plain } = common;
  if (!required) {
    const text = `${name}: not on record: the least cold pressure it needs. Read the trailer’s label, or weigh and look it up.`;
    return {
      ...plain,
      kind: 'unproven',
      text,
      takes: takesFilling(context, tire, `Read the cold pressure on the label for: ${name}`),
    };
  }
  const needs = `needs ${context.show(required.pressure)} (${required.why})`;
  const fill = takesFilling(context, tire, `Inflate to ${target(context, required.pressure)}: ${name}`);
  if (!cold && !set) {
    return { ...plain, kind: 'unproven', text: `${name}: no cold pressure on record; ${needs}.`, takes: fill };
  }
  const stands = set ? `set on ${formatDate(set.on, 'no-year')}` : standing(context, cold!);
  switch (verdict) {
    case 'low':
      return { ...common, kind: 'stop', text: `${name}: ${stands}; ${needs}.`, takes: fill };
    case 'early':
      return { ...plain, ...earlyText(context, [looked]), takes: fill };
    case 'stale': {
      const holds = `a reading proves it for ${PROOF_DAYS[tire.role]} ${PROOF_DAYS[tire.role] === 1 ? 'day' : 'days'}`;
      return {
        ...plain,
        kind: 'unproven',
        text: `${name}: ${stands}; ${holds} before leaving, and it ${needs}.`,
        takes: fill,
      };
    }
    case 'unsure': {
      const keepTo = 'read again with its temperature';
      return {
        ...plain,
        kind: 'limit',
        text: `${name}: ${stands}; ${needs}, so that it cannot be told.`,
        takes: fill,
        keepTo,
      };
    }
    case 'high': {
      const keepTo = `at most ${context.show(looked.max!)} cold`;
      const text = `${name}: ${stands}, above the ${context.show(looked.max!)} that tire or wheel allow cold.`;
      return {
        ...plain,
        kind: 'limit',
        text,
        keepTo,
        takes: takesFilling(context, tire, `Let out cold air to ${context.show(required.pressure)}: ${name}`),
      };
    }
    default:
      return { ...plain, kind: 'pass', text: `${name}: ${stands}; ${needs}.`, takes: null };
  }
}

/** `38 psi read on 3 Jun at 54 °F, which is 39.5 psi at 68 °F`. */
function standing(context: Context, { reading, low, high, temperatureKnown }: ColdPressure): string {
  const read = `${context.show(reading.value)} read on ${formatDate(reading.on, 'no-year')}`;
  const reference = context.show(REFERENCE_TEMPERATURE);
  if (temperatureKnown) {
    return `${read} at ${context.show(reading.temperature!)}, which is ${context.show(low)} at ${reference}`;
  }
  const bounds = `${context.show(low, 0)} to ${context.show(high, 0)} at ${reference}`;
  return `${read} without its temperature, which can be ${bounds}`;
}

const target = (context: Context, pressure: Quantity): string =>
  `${context.show(pressure)} cold at ${context.show(REFERENCE_TEMPERATURE)}`;

function earlyText(context: Context, round: readonly Looked[]) {
  const tire = round[0]!.tire;
  const from = addDays(context.leave, -PROOF_DAYS[tire.role]);
  const most = round.reduce((a, b) => (psiOver(b.required!.pressure, a.required!.pressure) > 0 ? b : a));
  const keepTo = `from ${formatDate(from, 'no-year')} to ${formatDate(context.leave, 'no-year')}, at least ${target(context, most.required!.pressure)}`;
  const names = listed(round.map((one) => one.tire.part.place || partName(context, one.tire.part)));
  return {
    kind: 'limit' as const,
    text: `To do on leaving: read the cold pressure of ${names}; ${context.show(most.required!.pressure)} or more.`,
    keepTo,
    onLeaving: true as const,
  };
}

/** All running tires are read in one round. */
function onLeaving(context: Context, role: 'running' | 'tow', round: readonly Looked[]): DraftFinding {
  const first = round[0]!;
  const { goWithLimits: _way, ...common } = base(context, first);
  const upkeep = pressureUpkeep(context, first.tire.part.kind);
  const minutes = (upkeep?.minutes ?? MINUTES) * round.length;
  const early = earlyText(context, round);
  return {
    ...common,
    id: role === 'tow' ? 'tires/pressure-tow' : 'tires/pressure',
    ...early,
    text: capital(early.text),
    part: null,
    parts: round.map((one) => one.tire.part.id),
    takes: { ...takesFilling(context, first.tire, `Read and set the cold pressures: ${early.keepTo}`), minutes },
    evidence: [...new Set(round.flatMap((one) => base(context, one).evidence))],
  };
}

/** Tires filled as they should stand at the reference are soft on a cold morning: topped up there. */
function coldMornings(context: Context, looked: readonly Looked[]): DraftFinding[] {
  const soft = looked.flatMap((one) => {
    if (one.tire.role !== 'running' || !one.required) return [];
    const there = atColdest(context, one.required.pressure);
    return there && psiOver(there.pressure, one.required.pressure) < -2 * valueIn(GAUGE_ERROR, 'psi')
      ? [{ one, there }]
      : [];
  });
  const first = soft[0];
  if (!first) return [];
  const { pressure } = first.one.required!;
  const { temperature } = first.there;
  const keepTo = `${context.show(pressure)} cold, also at ${context.show(temperature)}`;
  const parts = soft.map(({ one }) => one.tire.part.id);
  return [
    {
      id: 'tires/cold-mornings',
      group: 'tires',
      kind: 'limit',
      severity: 'damage',
      parts,
      text: `Tires at ${target(context, pressure)} stand at ${context.show(first.there.pressure)} on a morning of ${context.show(temperature)}: top up there before driving.`,
      keepTo,
      takes: takesFilling(
        context,
        first.one.tire,
        `Read the pressures on cold mornings and top up to ${context.show(pressure)}`,
      ),
      evidence: [context.trip.plan.id, ...first.one.required!.evidence],
      sources: ['tire-cold'],
    },
  ];
}
