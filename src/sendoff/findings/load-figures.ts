import { weighSingleAxle, weighThreePass, weighTongueScale } from '../../loads/index.ts';
import type { EntryOf } from '../../logbook/index.ts';
import { ok, type Result } from '../../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../../quantity/index.ts';

/** What one weighing says; absent where its method cannot say it. */
export interface LoadFigures {
  readonly tongue?: Quantity;
  readonly tongueShare?: Quantity;
  /** On the trailer’s axles, the greater of slack and set. */
  readonly axles?: Quantity;
  readonly trailer?: Quantity;
  readonly front?: Quantity;
  readonly rear?: Quantity;
  readonly towVehicle?: Quantity;
  readonly combined?: Quantity;
  /** What the scale’s step leaves open of the tongue. */
  readonly tongueBounds?: { readonly low: Quantity; readonly high: Quantity };
  /** Moved to the trailer’s axles by weight distribution, and how far it brought the front axle back. */
  readonly toAxles?: Quantity;
  readonly frontRestored?: Quantity | null;
  readonly cautions: readonly string[];
}

/** The figures that a rating can hold. */
export type LoadName = 'tongue' | 'axles' | 'trailer' | 'front' | 'rear' | 'towVehicle' | 'combined';

const most = (...values: readonly (Quantity | undefined)[]): Quantity | undefined =>
  values.reduce(
    (a, b) => (b === undefined ? a : a === undefined || valueIn(b, 'lb') > valueIn(a, 'lb') ? b : a),
    undefined,
  );

const sum = (...values: readonly Quantity[]): Quantity =>
  quantity(
    values.reduce((total, one) => total + valueIn(one, 'lb'), 0),
    'lb',
  );

/** The figures of a weighing, by whichever way it was weighed; or what is wrong with its tickets. */
export function loadFigures({ body }: EntryOf<'weigh'>): Result<LoadFigures> {
  const tongue = tongueOf(body);
  if (!tongue.ok) return tongue;
  const { hitchedSlack: slack, hitchedSet: set } = body;
  const whole = [slack, set].flatMap((pass) => (pass ? [sum(pass.front, pass.rear)] : []));
  const all = [slack, set].flatMap((pass) => (pass ? [sum(pass.front, pass.rear, pass.axles)] : []));
  const figures: Partial<Record<LoadName, Quantity | undefined>> = {
    axles: most(slack?.axles, set?.axles, body.axles),
    front: most(slack?.front, set?.front),
    rear: most(slack?.rear, set?.rear),
    towVehicle: most(...whole),
    combined: most(...all),
  };
  const known = Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined));
  return ok({ ...tongue.value, ...known });
}

/**
 * Tongue weight: from the tow vehicle alone and coupled slack, never from the pass with weight distribution set, which has moved part
 * of it; else from a tongue scale.
 */
function tongueOf(body: EntryOf<'weigh'>['body']): Result<LoadFigures> {
  const { solo, hitchedSlack, hitchedSet, step } = body;
  if (solo && hitchedSlack && hitchedSet) {
    const made = weighThreePass({ solo, hitchedSlack, hitchedSet, step });
    if (!made.ok) return made;
    const { toAxles, frontRestored, uncertainty } = made.value;
    return ok({ ...ofTongue(made.value), tongueBounds: uncertainty.tongue, toAxles, frontRestored });
  }
  if (solo && hitchedSlack) {
    const { front, rear, axles } = hitchedSlack;
    const made = weighSingleAxle({ solo, hitched: { front, rear, axles: [axles] }, step });
    return made.ok ? ok({ ...ofTongue(made.value), tongueBounds: made.value.uncertainty.tongue }) : made;
  }
  const axles = body.axles ?? hitchedSlack?.axles;
  if (!body.tongue) return ok({ cautions: [] });
  if (!axles) return ok({ tongue: body.tongue, cautions: [] });
  const made = weighTongueScale({ reading: body.tongue, axles });
  return made.ok ? ok(ofTongue(made.value)) : made;
}

type OfTongue = Required<Pick<LoadFigures, 'tongue' | 'tongueShare' | 'trailer' | 'cautions'>>;
const ofTongue = ({ tongue, tongueShare, trailer, cautions }: OfTongue): OfTongue => ({
  tongue,
  tongueShare,
  trailer,
  cautions,
});
