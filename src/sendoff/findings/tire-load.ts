import { limitIn, limitOf, limitSource } from '../../catalog/index.ts';
import { type EntryOf, vehicleOf } from '../../logbook/index.ts';
import { convert, formatQuantity, type Quantity, quantity, valueIn } from '../../quantity/index.ts';
import {
  type AxleTires,
  type FittedTire,
  type Margin,
  symbolSpeed,
  type TireMargins,
  tireMargins,
} from '../../tires/index.ts';
import { type Context, partName } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';
import { capital, counted, listed } from '../words.ts';
import { coldPressure, PROOF_DAYS, requiredPressure, type TireOnRig, wheelLoad } from './tire-facts.ts';

/** Under this share of a tire's rating left, what is left is a limit: the shared fact of all who look at tires. */
const RESERVE_PERCENT = limitIn('tire-reserve-least', '%');
/** Minutes on a truck scale, the queue not counted. Our own estimate. */
export const WEIGH_MINUTES = 45;

/** Load on each running trailer tire against its rating at its pressure. */
export function tireLoadFindings(context: Context, tires: readonly TireOnRig[]): DraftFinding[] {
  const running = tires.filter((tire) => tire.role === 'running');
  if (running.length === 0) return [];
  const carried = wheelLoad(context);
  const missing = missingFor(context, running, carried !== null);
  if (missing !== null) return [unproven(missing)];
  const margins = tireMargins({ axles: axlesOf(context, running, carried!) });
  if (!margins.ok) return [unproven(`the margins cannot be told: ${margins.problems[0]!.what}`)];
  return margins.value.tires.map((margin, i) =>
    loadFinding(context, running[i]!, margin, margins.value, carried!.entry),
  );
}

function missingFor(context: Context, running: readonly TireOnRig[], weighed: boolean): string | null {
  const axles = vehicleOf(context.state, 'trailer')?.body.axles;
  if (axles !== undefined && running.length !== axles * 2) {
    return `${counted(running.length, 'tire')} of ${axles * 2} on record`;
  }
  if (!weighed) return 'a weighing of the trailer’s axles';
  const bare = running.filter((tire) => tire.spec === null).map((tire) => tire.part.place || tire.part.id);
  if (bare.length > 0) return `size and load range of the tires: ${listed(bare)}`;
  const unknown = running.filter((tire) => pressureOf(context, tire) === null);
  return unknown.length > 0 ? 'a cold pressure of the tires' : null;
}

function unproven(missing: string): DraftFinding {
  return {
    id: 'tires/load',
    group: 'tires',
    kind: 'unproven',
    severity: 'safety',
    text: `Load on each tire: not on record: ${missing}. Without it nothing shows that the tires carry the trailer.`,
    takes: takesSimply(
      'Weigh the loaded rig, and read size, load range and most load off each sidewall',
      WEIGH_MINUTES,
      { kind: 'weigh' },
    ),
    evidence: [],
    sources: ['fmvss-110'],
  };
}

/** What the load is held against: a fresh reading, else the pressure that must be there on leaving. */
function pressureOf(context: Context, tire: TireOnRig): Quantity | null {
  const cold = coldPressure(context, tire.part);
  if (cold && cold.daysOld <= PROOF_DAYS[tire.role]) return cold.low;
  return requiredPressure(context, tire)?.pressure ?? cold?.low ?? null;
}

function axlesOf(
  context: Context,
  running: readonly TireOnRig[],
  carried: { readonly load: Quantity },
): readonly AxleTires[] {
  // The group is weighed as one, so every tire is given the same share and all stand in one row.
  const fitted = running.map(
    (tire): FittedTire => ({
      ...tire.spec!,
      place: tire.part.place || tire.part.id,
      side: /right/.test(tire.part.place) ? 'right' : 'left',
      pressure: pressureOf(context, tire)!,
      load: carried.load,
    }),
  );
  const rows = new Map<string, FittedTire[]>();
  for (const tire of fitted) {
    const axle = /axle \d/.exec(tire.place)?.[0] ?? 'axles';
    rows.set(axle, [...(rows.get(axle) ?? []), tire]);
  }
  return [...rows].map(([name, row]) => ({
    name,
    tires: row,
    load: { value: carried.load.value * row.length, unit: carried.load.unit },
  }));
}

function loadFinding(
  context: Context,
  tire: TireOnRig,
  margin: Margin,
  all: TireMargins,
  weighed: EntryOf<'weigh'>,
): DraftFinding {
  const name = partName(context, tire.part);
  const share = valueIn(margin.share, '%');
  const at = context.show(pressureOf(context, tire)!);
  const text = `${name}: carries ${context.show(margin.load, 0)} of ${context.show(margin.rated, 0)} at ${at}, the load shared equally by all wheels`;
  const common = {
    id: `tires/load@${tire.part.id}`,
    group: 'tires' as const,
    severity: 'safety' as const,
    part: tire.part.id,
    evidence: [weighed.id, tire.part.fit.id],
    sources: ['fmvss-110'],
    cautions: all.cautions,
  };
  const over = { value: Math.abs(margin.margin.value), unit: margin.margin.unit };
  if (share < 0) {
    const takes = takesSimply(`Take ${context.show(over, 0)} off this wheel, and weigh again: ${name}`, WEIGH_MINUTES, {
      kind: 'weigh',
    });
    return { ...common, kind: 'stop', text: `${text}: over by ${context.show(over, 0)}.`, takes };
  }
  const left = `${formatQuantity(margin.share, { digits: 0 })}, ${context.show(over, 0)} left`;
  if (share < RESERVE_PERCENT) {
    const takes = takesSimply(
      `Move load to the tow vehicle or to the other wheels, and weigh again: ${name}`,
      WEIGH_MINUTES,
      { kind: 'weigh' },
    );
    return {
      ...common,
      kind: 'limit',
      text: `${text}: ${left}, and ${RESERVE_PERCENT} % is kept in reserve.`,
      keepTo: `no more load than weighed (${left})`,
      takes,
      sources: [...common.sources, limitSource('tire-reserve-least').id],
    };
  }
  return { ...common, kind: 'pass', text: `${text}: ${left}.`, takes: null };
}

/** ST tires without a speed symbol are rated at this. */
const ST_SPEED = limitOf('tire-speed-unmarked');
/** Above this no limit of a tire is worth saying: nobody tows faster (common practice, no source). */
const SPEED_SAID = quantity(80, 'mph');
const ST_SOURCE = limitSource('tire-speed-unmarked').id;

/** The lowest speed that any trailer tire is rated for, where the owner does not keep below it already. */
export function speedFindings(
  context: Context,
  tires: readonly TireOnRig[],
  own: Quantity | undefined,
): DraftFinding[] {
  const running = tires.filter((tire) => tire.role === 'running');
  const rated = running.flatMap((tire) => {
    const speed = speedOf(tire);
    return speed === null ? [] : [{ tire, speed }];
  });
  const slowest = rated.reduce<(typeof rated)[number] | null>(
    (a, b) => (a === null || valueIn(b.speed, 'mph') < valueIn(a.speed, 'mph') ? b : a),
    null,
  );
  const base = { id: 'tires/speed', group: 'tires' as const, severity: 'safety' as const, sources: [ST_SOURCE] };
  const evidence = running.map((tire) => tire.part.fit.id);
  if (slowest === null) return [];
  const limit = own && own.unit === 'km/h' ? convert(slowest.speed, 'km/h') : slowest.speed;
  const shown = context.show(limit, 0);
  const symbol = slowest.tire.speedSymbol;
  const why = symbol === null ? 'the tires carry no speed symbol on record' : `speed symbol ${symbol}`;
  const text = `${capital(partName(context, slowest.tire.part))}: ${shown} at most; ${why}`;
  if (own && valueIn(own, 'mph') <= valueIn(limit, 'mph') + 1e-9) {
    return [{ ...base, kind: 'pass', text: `${text}. We keep to ${context.show(own, 0)}.`, takes: null, evidence }];
  }
  if (valueIn(limit, 'mph') >= valueIn(SPEED_SAID, 'mph')) {
    return [{ ...base, kind: 'pass', text: `${text}.`, takes: null, evidence }];
  }
  const takes = takesSimply(`Keep to ${shown}, or read the speed symbol off every sidewall`, 5, {
    kind: 'fit',
    part: slowest.tire.part.id,
    partKind: slowest.tire.part.kind,
  });
  return [{ ...base, kind: 'limit', text: `${text}.`, keepTo: shown, takes, evidence }];
}

/** By the symbol; without one, as for an ST tire: the family that asks for the lowest speed. */
function speedOf(tire: TireOnRig): Quantity | null {
  if (tire.speedSymbol === null) return ST_SPEED;
  const speed = symbolSpeed(tire.speedSymbol);
  return speed.ok ? speed.value : ST_SPEED;
}
