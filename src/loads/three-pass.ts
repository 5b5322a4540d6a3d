/**
 * `weigh-three-pass`: a drive-on scale with a pad under each axle, three times: tow vehicle alone; coupled, weight
 * distribution slack; coupled, weight distribution set.
 *
 * Standard procedure of the trade; the arithmetic is statics. Tongue weight from passes 1 and 2, never from pass 3, where weight
 * distribution has moved part of it to the trailer's axles. Rear axle rated before and after the bars are set: a truck maker's
 * manuals of 2015 to 2020 forbid exceeding it before. Front axle restored beyond where it started is always flagged.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity } from '../quantity/index.ts';
import {
  closeCautions,
  type LoadLimit,
  lb,
  loadLimits,
  type OriginRating,
  overCautions,
  ratingProblem,
  tightest,
} from './limits.ts';
import {
  type Bounds,
  type CoupledPass,
  coarseProblem,
  corners,
  SCALE_STEP,
  stepProblem,
  sumProblem,
  type VehiclePass,
  weightProblem,
} from './ticket.ts';
import { bandProblem, restoredCautions, type TongueBand, tongueCautions } from './tongue-band.ts';

export interface RigRatings {
  readonly frontAxle?: OriginRating | undefined;
  readonly rearAxle?: OriginRating | undefined;
  readonly vehicle?: OriginRating | undefined;
  readonly trailerAxles?: OriginRating | undefined;
  readonly trailer?: OriginRating | undefined;
  readonly combined?: OriginRating | undefined;
  readonly tongue?: OriginRating | undefined;
}

export interface WeighThreePass {
  readonly tongue: Quantity;
  readonly tongueShare: Quantity;
  readonly trailer: Quantity;
  readonly combined: Quantity;
  /** How much of the load the tongue took off the front axle is back on it; null where the tongue took nothing off. */
  readonly frontRestored: Quantity | null;
  /** What weight distribution moved to the trailer's axles. */
  readonly toAxles: Quantity;
  /** What a scale step leaves open. */
  readonly uncertainty: {
    readonly tongue: Bounds;
    readonly tongueShare: Bounds;
    readonly toAxles: Bounds;
    readonly frontRestored: Bounds | null;
  };
  readonly limits: readonly LoadLimit[];
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

export interface ThreePassInput {
  readonly solo: VehiclePass;
  readonly hitchedSlack: CoupledPass;
  readonly hitchedSet: CoupledPass;
  readonly step?: Quantity | undefined;
  readonly ratings?: RigRatings | undefined;
  /** The owner's handbook on the tongue's share. */
  readonly band?: TongueBand | undefined;
}

/** Everything that must hold before the tickets can be computed with. */
function ticketProblems(input: ThreePassInput, step: Quantity) {
  const passes = [
    ['solo', { front: input.solo.front, rear: input.solo.rear }, input.solo.total],
    [
      'hitchedSlack',
      { front: input.hitchedSlack.front, rear: input.hitchedSlack.rear, axles: input.hitchedSlack.axles },
      input.hitchedSlack.total,
    ],
    [
      'hitchedSet',
      { front: input.hitchedSet.front, rear: input.hitchedSet.rear, axles: input.hitchedSet.axles },
      input.hitchedSet.total,
    ],
  ] as const;
  for (const [name, parts, total] of passes) {
    const problem =
      weightProblem(parts, name) ??
      coarseProblem(Object.values(parts), step, name) ??
      sumProblem(Object.values(parts), total, step, name);
    if (problem !== null) return problem;
  }
  const sums = [input.hitchedSlack, input.hitchedSet].map((pass) => lb(pass.front) + lb(pass.rear) + lb(pass.axles));
  // Six readings, each rounded by up to half a step.
  if (Math.abs(sums[0]! - sums[1]!) > 3 * lb(step) + 1e-6) {
    return {
      code: 'loads.passes-differ',
      what: `The whole rig weighs ${Math.round(sums[0]!)} lb with weight distribution slack and ${Math.round(sums[1]!)} lb with it set; setting it adds nothing.`,
      where: 'hitchedSet',
      expected: `the same total in both passes, within the scale’s step (${formatQuantity(step)} a reading)`,
      next: 'Weigh again with the same people, fuel and cargo, every axle on its own pad.',
    };
  }
  return null;
}

/** A tongue weight that can be. */
function tongueProblem(tongue: number, axles: number) {
  if (tongue > axles || tongue < -0.5 * axles) {
    return {
      code: 'loads.tongue-impossible',
      what: `By these tickets the tongue carries ${Math.round(tongue)} lb and the trailer’s axles ${Math.round(axles)} lb: no trailer stands like that.`,
      where: 'hitchedSlack',
      expected: 'a tongue that carries less than the axles do',
      next: 'The passes are mixed up, or the tow vehicle was loaded differently.',
    };
  }
  return null;
}

/**
 * Tongue weight, shares, restoration and margins from three passes over a scale.
 *
 * @param input.step the scale's step; 20 lb where not given, and said so
 * @returns figures in the unit of `solo.front`; `loads.reading`, `loads.ticket-sum`, `loads.passes-differ`,
 * `loads.tongue-impossible`
 * @example solo 3,200/2,800; slack 2,840/3,960/5,600; set 3,020/3,680/5,700 lb → tongue 800 lb, 12.5 %, restored 50 %
 */
export function weighThreePass(input: ThreePassInput): Result<WeighThreePass> {
  const step = input.step ?? SCALE_STEP;
  const { solo, hitchedSlack: slack, hitchedSet: set } = input;
  const wrong =
    stepProblem(input.step) ??
    ticketProblems(input, step) ??
    ratingProblem({ ...input.ratings }) ??
    bandProblem(input.band);
  if (wrong !== null) return fail(wrong);
  const unit = solo.front.unit;
  const [f1, r1, f2, r2, a2, f3, r3, a3] = [
    solo.front,
    solo.rear,
    slack.front,
    slack.rear,
    slack.axles,
    set.front,
    set.rear,
    set.axles,
  ].map(lb) as [number, number, number, number, number, number, number, number];
  const tongue = f2 + r2 - f1 - r1;
  const impossible = tongueProblem(tongue, a2);
  if (impossible !== null) return fail(impossible);
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), unit);
  const bounds = ({ low, high }: { low: number; high: number }): Bounds => ({ low: mass(low), high: mass(high) });
  const percent = ({ low, high }: { low: number; high: number }): Bounds => ({
    low: quantity(low, '%'),
    high: quantity(high, '%'),
  });
  const half = lb(step) / 2;
  const restored = ([first, slackFront, setFront]: readonly number[]) =>
    (100 * (setFront! - slackFront!)) / (first! - slackFront!);
  const known = f1 - f2 > lb(step);
  const worst = (what: 'front' | 'rear' | 'axles') => mass(Math.max(lb(slack[what]), lb(set[what])));
  const limits = loadLimits([
    ['front axle', worst('front'), input.ratings?.frontAxle],
    ['rear axle', worst('rear'), input.ratings?.rearAxle],
    ['tow vehicle', mass(Math.max(f2 + r2, f3 + r3)), input.ratings?.vehicle],
    ['trailer axles', worst('axles'), input.ratings?.trailerAxles],
    ['trailer', mass(tongue + a2), input.ratings?.trailer],
    ['combination', mass(Math.max(f2 + r2 + a2, f3 + r3 + a3)), input.ratings?.combined],
    ['tongue', mass(tongue), input.ratings?.tongue],
  ]);
  const shareDoubt = corners(
    [f2, r2, f1, r1, a2],
    half,
    ([a, b, c, d, e]) => (100 * (a! + b! - c! - d!)) / (a! + b! - c! - d! + e!),
  );
  const restoredShare = known ? restored([f1, f2, f3]) : null;
  return ok({
    tongue: mass(tongue),
    tongueShare: quantity((100 * tongue) / (tongue + a2), '%'),
    trailer: mass(tongue + a2),
    combined: mass(f2 + r2 + a2),
    frontRestored: restoredShare === null ? null : quantity(restoredShare, '%'),
    toAxles: mass(a3 - a2),
    uncertainty: {
      tongue: bounds(corners([f2, r2, f1, r1], half, ([a, b, c, d]) => a! + b! - c! - d!)),
      tongueShare: percent(shareDoubt),
      toAxles: bounds(corners([a3, a2], half, ([a, b]) => a! - b!)),
      frontRestored: known ? percent(corners([f1, f2, f3], half, restored)) : null,
    },
    limits,
    limitedBy: tightest(limits, 'the scale’s step'),
    assumed: input.step === undefined ? ['step: 20 lb'] : [],
    cautions: [
      ...overCautions(limits),
      ...closeCautions(limits, doubtsOf(half)),
      ...tongueCautions((100 * tongue) / (tongue + a2), input.band, shareDoubt),
      ...frontCautions(f1, f3, lb(step), restoredShare),
    ],
  });
}

/** By how much each load may be more than it reads, pounds: half a step a reading it is made of. */
function doubtsOf(half: number): ReadonlyMap<string, number> {
  return new Map([
    ['front axle', half],
    ['rear axle', half],
    ['tow vehicle', 2 * half],
    ['trailer axles', half],
    ['trailer', 5 * half],
    ['combination', 3 * half],
    ['tongue', 4 * half],
  ]);
}

/** What the front axle's loads say; a figure within the scale's step of full restoration is not held against it. */
function frontCautions(f1: number, f3: number, step: number, restored: number | null): readonly string[] {
  const over = f3 - f1 > step;
  if (restored === null) {
    return [
      ...(over ? restoredCautions(Number.POSITIVE_INFINITY) : []),
      'The tongue takes no more off the front axle than the scale can tell: restoration is not known.',
    ];
  }
  return restored > 100 && !over ? [] : restoredCautions(restored);
}
