/**
 * `load-change`: what moving, adding or removing things does to tongue and axles of the trailer.
 *
 * Statics: a weight w at distance x ahead of the centre of the axles puts w·x/L on the ball and the rest on the axles, L from
 * ball to that centre; behind the axles it lifts the ball. Axles are taken as one: how tandem axles share is not known.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { type LoadLimit, lb, loadLimits, type OriginRating, overCautions, ratingProblem, tightest } from './limits.ts';
import { AXLES_WEIGHT, BALL_TO_AXLES, ITEM_WEIGHT, PLACE, TONGUE_WEIGHT } from './ranges.ts';
import { bandProblem, type TongueBand, tongueCautions } from './tongue-band.ts';

/** A thing put (`to`), taken away (`from`) or moved (both): places ahead of the centre of the axles, negative behind. */
export interface LoadMove {
  readonly what: string;
  readonly weight: Quantity;
  readonly from?: Quantity | undefined;
  readonly to?: Quantity | undefined;
}

export interface LoadChange {
  readonly tongue: Quantity;
  readonly tongueShare: Quantity;
  readonly axles: Quantity;
  readonly trailer: Quantity;
  readonly changes: readonly { readonly what: string; readonly tongue: Quantity; readonly axles: Quantity }[];
  readonly limits: readonly LoadLimit[];
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** What each move does to ball and axles, pounds; `length` from ball to axles in metres. */
function movesOf(
  moves: readonly LoadMove[],
  length: number,
): Result<readonly { what: string; onBall: number; onAxles: number }[]> {
  const unread = rangeProblem(
    moves.flatMap((move, i) => [
      [`moves.${i}.weight`, move.weight, ITEM_WEIGHT] as const,
      [`moves.${i}.from`, move.from, PLACE] as const,
      [`moves.${i}.to`, move.to, PLACE] as const,
    ]),
  );
  if (unread !== null) return fail(unread);
  const wrong = moves.findIndex((move) => lb(move.weight) <= 0 || (move.from === undefined && move.to === undefined));
  if (wrong >= 0) {
    return fail({
      code: 'loads.move',
      what: `${moves[wrong]!.what}: a thing weighs something and comes from or goes to a place.`,
      where: `moves.${wrong}`,
      expected: '`to` for what is added, `from` for what is taken out, both for what is moved',
    });
  }
  const arm = (place: Quantity | undefined) => (place === undefined ? 0 : valueIn(place, 'm'));
  return ok(
    moves.map((move) => {
      const weight = lb(move.weight);
      const onBall = (weight * (arm(move.to) - arm(move.from))) / length;
      const whole = (move.to === undefined ? 0 : weight) - (move.from === undefined ? 0 : weight);
      return { what: move.what, onBall, onAxles: whole - onBall };
    }),
  );
}

/**
 * @returns the new loads in the unit of `tongue`; `loads.move` where a thing has no place, `loads.tongue-impossible`
 * @example tongue 800, axles 5,600 lb, ball to axles 210 in; 60 lb moved from 100 in ahead to 80 in behind → tongue 748.6 lb
 */
export function loadChange(input: {
  readonly tongue: Quantity;
  readonly axles: Quantity;
  readonly ballToAxles: Quantity;
  readonly moves: readonly LoadMove[];
  readonly band?: TongueBand | undefined;
  readonly ratings?:
    | {
        readonly tongue?: OriginRating | undefined;
        readonly trailerAxles?: OriginRating | undefined;
        readonly trailer?: OriginRating | undefined;
      }
    | undefined;
}): Result<LoadChange> {
  const length = valueIn(input.ballToAxles, 'm');
  if (length <= 0 || lb(input.axles) <= 0) {
    return fail({
      code: 'loads.geometry',
      what: 'Axles carry something, and stand behind the ball.',
      where: length <= 0 ? 'ballToAxles' : 'axles',
      expected: 'a value above zero',
    });
  }
  const wrong =
    rangeProblem([
      ['tongue', input.tongue, TONGUE_WEIGHT],
      ['axles', input.axles, AXLES_WEIGHT],
      ['ballToAxles', input.ballToAxles, BALL_TO_AXLES],
    ]) ??
    ratingProblem({ ...input.ratings }) ??
    bandProblem(input.band);
  if (wrong !== null) return fail(wrong);
  const unit = input.tongue.unit;
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), unit);
  const moved = movesOf(input.moves, length);
  if (!moved.ok) return moved;
  const tongue = lb(input.tongue) + moved.value.reduce((sum, move) => sum + move.onBall, 0);
  const axles = lb(input.axles) + moved.value.reduce((sum, move) => sum + move.onAxles, 0);
  if (axles <= 0 || tongue > axles || tongue < -0.5 * axles) {
    return fail({
      code: 'loads.tongue-impossible',
      what: 'After these moves no trailer could stand: more was moved than it carries.',
      where: 'moves',
      expected: 'things that were aboard',
    });
  }
  const limits = loadLimits([
    ['tongue', mass(tongue), input.ratings?.tongue],
    ['trailer axles', mass(axles), input.ratings?.trailerAxles],
    ['trailer', mass(tongue + axles), input.ratings?.trailer],
  ]);
  const share = (100 * tongue) / (tongue + axles);
  const cautions = [...overCautions(limits), ...tongueCautions(share, input.band)];
  return ok({
    tongue: mass(tongue),
    tongueShare: quantity(share, '%'),
    axles: mass(axles),
    trailer: mass(tongue + axles),
    changes: moved.value.map((move) => ({ what: move.what, tongue: mass(move.onBall), axles: mass(move.onAxles) })),
    limits,
    limitedBy: tightest(limits, 'the weights and places as given'),
    cautions: [...cautions, 'A computed load is no weighing: confirm it on a scale.'],
  });
}

/** Added weight that asks for a corrected load label before first sale: the lesser of 1.5 % of GVWR or 100 lb (72 FR 68442). */
export function relabelThreshold(gvwr: Quantity): Quantity {
  return convert(quantity(Math.min(0.015 * lb(gvwr), 100), 'lb'), gvwr.unit);
}
