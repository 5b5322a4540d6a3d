import { weighSingleAxle, weighThreePass, weighTongueScale } from '../../loads/index.ts';
import type { EntryOf } from '../../logbook/index.ts';
import type { Problem, Result } from '../../problem/index.ts';
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
}

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

const bare = (figures: { readonly [K in keyof LoadFigures]: LoadFigures[K] | undefined }): LoadFigures =>
  Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined));

/** The figures of a weighing, by whichever way it was weighed; or what is wrong with its tickets. */
export function loadFigures({ body }: EntryOf<'weigh'>): Result<LoadFigures> {
  const tongue = tongueOf(body);
  if (!tongue.ok) return tongue;
  const { hitchedSlack: slack, hitchedSet: set } = body;
  const front = most(slack?.front, set?.front);
  const rear = most(slack?.rear, set?.rear);
  const whole = [slack, set].flatMap((pass) => (pass ? [sum(pass.front, pass.rear)] : []));
  const all = [slack, set].flatMap((pass) => (pass ? [sum(pass.front, pass.rear, pass.axles)] : []));
  return {
    ok: true,
    value: bare({
      ...tongue.value,
      axles: most(slack?.axles, set?.axles, body.axles),
      front,
      rear,
      towVehicle: most(...whole),
      combined: most(...all),
    }),
  };
}

type Tongue = Pick<LoadFigures, 'tongue' | 'tongueShare' | 'trailer'>;
const pick = ({ tongue, tongueShare, trailer }: Required<Tongue>): Tongue => ({ tongue, tongueShare, trailer });

/**
 * Tongue weight: from the tow vehicle alone and coupled slack, never from the pass with weight distribution set, which has moved part
 * of it; else from a tongue scale.
 */
function tongueOf(body: EntryOf<'weigh'>['body']): Result<Tongue> {
  const { solo, hitchedSlack, hitchedSet, step } = body;
  if (solo && hitchedSlack && hitchedSet) return map(weighThreePass({ solo, hitchedSlack, hitchedSet, step }));
  if (solo && hitchedSlack) {
    const { front, rear, axles } = hitchedSlack;
    return map(weighSingleAxle({ solo, hitched: { front, rear, axles: [axles] }, step }));
  }
  const axles = body.axles ?? hitchedSlack?.axles;
  if (body.tongue && axles) return map(weighTongueScale({ reading: body.tongue, axles }));
  return { ok: true, value: body.tongue ? { tongue: body.tongue } : {} };
}

const map = (result: Result<Required<Tongue>>): Result<Tongue> =>
  result.ok ? { ok: true, value: pick(result.value) } : { ok: false, problems: result.problems as readonly Problem[] };
