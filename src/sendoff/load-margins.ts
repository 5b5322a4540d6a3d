import { loadLimit, type OriginRating } from '../loads/index.ts';
import { type EntryOf, partsOf, quantityFact, type Rating, type RigState, vehicleOf } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import type { LoadFigures, LoadName } from './findings/load-figures.ts';

/** One load that a rating holds, by name. */
export interface HeldLoad {
  /** As in the findings: `rear-axle`. */
  readonly id: string;
  readonly name: string;
  readonly load: LoadName;
  /** Null where it is not on record. */
  readonly rated: OriginRating | null;
  readonly evidence: readonly string[];
}

/** A load against its rating; null where a side of it is not on record, or was not weighed. */
export interface LoadMargin {
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

/** Every rating of the rig with its load, the tightest first; then those of which one side is missing. */
export function loadMargins(state: RigState, figures: LoadFigures): readonly LoadMargin[] {
  const rows = heldLoads(state).map(({ id, name, load, rated }): LoadMargin => {
    const carried = figures[load] ?? null;
    const limit = carried && rated ? loadLimit(name, carried, rated) : null;
    return {
      id,
      what: name,
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
export function heldLoads(state: RigState): readonly HeldLoad[] {
  const trailer = vehicleOf(state, 'trailer');
  const tow = vehicleOf(state, 'tow');
  const own = trailer?.body.ratings ?? {};
  const pulls = tow?.body.ratings ?? {};
  const chains = partsOf(state).find((part) => part.kind === 'safety-chains');
  const strength = chains ? quantityFact(chains, 'breakingStrength') : null;
  const heldBy =
    (vehicle: EntryOf<'enroll'> | undefined) =>
    (id: string, name: string, load: LoadName, rated: OriginRating | null): HeldLoad => ({
      id,
      name,
      load,
      rated,
      evidence: vehicle ? [vehicle.id] : [],
    });
  const [ofTrailer, ofTow] = [heldBy(trailer), heldBy(tow)];
  return [
    ofTrailer('trailer-axles', 'trailer axles', 'axles', axleGroup(trailer)),
    ofTrailer('trailer', 'trailer', 'trailer', rating(own.gvwr)),
    ofTrailer('coupler', 'coupler', 'trailer', rating(own.coupler)),
    {
      ...ofTrailer('chains', 'safety chains', 'trailer', rating(own.chains)),
      ...chainStrength(strength, chains?.fit.id),
    },
    ofTow('tongue', 'tongue on the receiver', 'tongue', rating(pulls.receiverTongue)),
    ofTow('receiver', 'receiver', 'trailer', rating(pulls.receiver)),
    ofTow('ball', 'ball', 'trailer', rating(pulls.ball)),
    ofTow('front-axle', 'tow vehicle’s front axle', 'front', rating(pulls.gawrFront)),
    ofTow('rear-axle', 'tow vehicle’s rear axle', 'rear', rating(pulls.gawrRear)),
    ofTow('tow-vehicle', 'tow vehicle', 'towVehicle', rating(pulls.gvwr)),
    ofTow('combined', 'combination', 'combined', rating(pulls.gcwr)),
  ];
}

function rating(given: Rating | undefined): OriginRating | null {
  return given ? { rating: given.value, origin: given.origin } : null;
}

/** All axles together: one axle's rating times their number. */
function axleGroup(trailer: EntryOf<'enroll'> | undefined): OriginRating | null {
  const one = trailer?.body.ratings?.gawrAxle;
  const axles = trailer?.body.axles;
  if (!one || !axles) return null;
  return { rating: { value: one.value.value * axles, unit: one.value.unit }, origin: one.origin };
}

/** As stamped on the chains themselves; it goes before what the trailer’s papers say. */
function chainStrength(strength: Quantity | null, entry: string | undefined): Partial<HeldLoad> {
  if (strength === null || entry === undefined) return {};
  return { rated: { rating: strength, origin: 'breaking strength of each chain' }, evidence: [entry] };
}
