/** Which load of the newest weighing is held by which rating on record. The arithmetic is that of the loads room. */
import {
  type LoadLimit,
  loadLimit,
  type OriginRating,
  weighSingleAxle,
  weighThreePass,
  weighTongueScale,
} from '../loads/index.ts';
import { type EntryOf, partsOf, type Rating, type RigState, vehicleOf } from '../logbook/index.ts';
import { ok, type Result } from '../problem/index.ts';
import { add, compare, parseQuantity, type Quantity, quantity } from '../quantity/index.ts';

/** What one weighing says; absent where its method cannot say it. */
export interface WeighFigures {
  readonly tongue?: Quantity;
  readonly tongueShare?: Quantity;
  /** What the scale’s step leaves open of the tongue. */
  readonly tongueBounds?: { readonly low: Quantity; readonly high: Quantity };
  readonly trailer?: Quantity;
  /** Coupled, these: the greater of weight distribution slack and set. */
  readonly axles?: Quantity;
  readonly front?: Quantity;
  readonly rear?: Quantity;
  readonly towVehicle?: Quantity;
  readonly combined?: Quantity;
  readonly cautions: readonly string[];
}

type Load = Exclude<keyof WeighFigures, 'cautions' | 'tongueShare' | 'tongueBounds'>;
type Weighing = EntryOf<'weigh'>['body'];

/** One rating and the load it holds; null where it is not on record, or was not weighed. `id` as in the send-off’s findings. */
export interface Margin {
  readonly id: string;
  readonly what: string;
  readonly load: Quantity | null;
  readonly rating: Quantity | null;
  /** Where the rating was read. */
  readonly origin: string | null;
  /** Rating less load; negative: over. */
  readonly left: Quantity | null;
  /** Load in per cent of the rating. */
  readonly used: number | null;
}

const heaviest = (...loads: readonly (Quantity | undefined)[]): Quantity | undefined =>
  loads.reduce((a, b) => (a === undefined || (b !== undefined && compare(b, a) > 0) ? b : a), undefined);

/** The figures of a weighing, by whichever way it was weighed. Problems: those of its tickets. */
export function weighFigures(body: Weighing): Result<WeighFigures> {
  const tongue = tongueOf(body);
  if (!tongue.ok) return tongue;
  const passes = [body.hitchedSlack, body.hitchedSet].filter((pass) => pass !== undefined);
  const figures = {
    ...tongue.value,
    axles: heaviest(...passes.map((pass) => pass.axles), body.axles),
    front: heaviest(...passes.map((pass) => pass.front)),
    rear: heaviest(...passes.map((pass) => pass.rear)),
    towVehicle: heaviest(...passes.map((pass) => add(pass.front, pass.rear))),
    combined: heaviest(...passes.map((pass) => add(add(pass.front, pass.rear), pass.axles))),
  };
  return ok(
    Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined)) as unknown as WeighFigures,
  );
}

type Tongue = Pick<WeighFigures, 'tongue' | 'tongueShare' | 'tongueBounds' | 'trailer' | 'cautions'>;

/** From the tow vehicle alone and coupled with weight distribution slack, never set; else from a tongue scale. */
function tongueOf({ solo, hitchedSlack, hitchedSet, step, ...scale }: Weighing): Result<Tongue> {
  if (solo && hitchedSlack && hitchedSet) {
    const made = weighThreePass({ solo, hitchedSlack, hitchedSet, step });
    return made.ok ? ok(tongueIn(made.value, made.value.uncertainty.tongue)) : made;
  }
  if (solo && hitchedSlack) {
    const { front, rear, axles } = hitchedSlack;
    const made = weighSingleAxle({ solo, hitched: { front, rear, axles: [axles] }, step });
    return made.ok ? ok(tongueIn(made.value, made.value.uncertainty.tongue)) : made;
  }
  const axles = scale.axles ?? hitchedSlack?.axles;
  if (!scale.tongue) return ok({ cautions: [] });
  if (!axles) return ok({ tongue: scale.tongue, cautions: [] });
  const made = weighTongueScale({ reading: scale.tongue, axles });
  return made.ok ? ok(tongueIn(made.value)) : made;
}

function tongueIn(
  { tongue, tongueShare, trailer, cautions }: Tongue,
  tongueBounds?: WeighFigures['tongueBounds'],
): Tongue {
  return Object.fromEntries(
    Object.entries({ tongue, tongueShare, trailer, tongueBounds, cautions }).filter(([, value]) => value !== undefined),
  ) as unknown as Tongue;
}

/** Every rating of the rig with its load, the tightest first; then those of which one side is missing. */
export function marginsOf(state: RigState, figures: WeighFigures): readonly Margin[] {
  const rows = heldOf(state).map(([id, what, load, rated]): Margin => {
    const carried = figures[load] ?? null;
    const limit: LoadLimit | null = carried && rated ? loadLimit(what, carried, rated) : null;
    return {
      id,
      what,
      load: carried,
      rating: limit?.rating ?? rated?.rating ?? null,
      origin: rated?.origin ?? null,
      left: limit?.margin ?? null,
      used: limit?.used.value ?? null,
    };
  });
  return rows.sort((a, b) => (b.used ?? -1) - (a.used ?? -1));
}

/** Which rating holds which load. */
function heldOf(
  state: RigState,
): readonly (readonly [id: string, what: string, load: Load, rated: OriginRating | null])[] {
  const trailer = vehicleOf(state, 'trailer')?.body;
  const own = trailer?.ratings ?? {};
  const pulls = vehicleOf(state, 'tow')?.body.ratings ?? {};
  const rated = (given: Rating | undefined): OriginRating | null =>
    given ? { rating: given.value, origin: given.origin } : null;
  return [
    ['trailer-axles', 'trailer axles', 'axles', axleGroup(own.gawrAxle, trailer?.axles)],
    ['trailer', 'trailer', 'trailer', rated(own.gvwr)],
    ['coupler', 'coupler', 'trailer', rated(own.coupler)],
    ['chains', 'safety chains', 'trailer', chainStrength(state) ?? rated(own.chains)],
    ['tongue', 'tongue on the receiver', 'tongue', rated(pulls.receiverTongue)],
    ['receiver', 'receiver', 'trailer', rated(pulls.receiver)],
    ['ball', 'ball', 'trailer', rated(pulls.ball)],
    ['front-axle', 'tow vehicle’s front axle', 'front', rated(pulls.gawrFront)],
    ['rear-axle', 'tow vehicle’s rear axle', 'rear', rated(pulls.gawrRear)],
    ['tow-vehicle', 'tow vehicle', 'towVehicle', rated(pulls.gvwr)],
    ['combined', 'combination', 'combined', rated(pulls.gcwr)],
  ];
}

/** All axles together. */
function axleGroup(one: Rating | undefined, axles: number | undefined): OriginRating | null {
  if (!one || !axles) return null;
  return { rating: quantity(one.value.value * axles, one.value.unit), origin: one.origin };
}

/** As stamped on the chains themselves; it goes before what the trailer’s papers say. */
function chainStrength(state: RigState): OriginRating | null {
  const fact = partsOf(state).find((part) => part.kind === 'safety-chains')?.facts.breakingStrength;
  const read = typeof fact === 'object' ? fact : typeof fact === 'string' ? parsed(fact) : undefined;
  return read ? { rating: read, origin: 'breaking strength of each chain' } : null;
}

function parsed(text: string): Quantity | undefined {
  const read = parseQuantity(text, 'mass');
  return read.ok ? read.value : undefined;
}
