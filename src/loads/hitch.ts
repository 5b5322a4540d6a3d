/**
 * `hitch-chain`: class, ball, chains and every rating between tow vehicle and trailer; the weakest link is named.
 *
 * Sources: class limits of SAE J684, identical in Maryland COMAR 11.13.08.04. Chains: the strength of each is state law and SAE J684 as
 * summarised (New Hampshire RSA 266:63: each breaks no lower than the trailer's gross weight); 49 CFR 393.70(d), for commercial
 * combinations, asks it of the chains together (from memory). The stricter is used: each on its own. Breaking strength is four times the
 * working load limit for grade 30 chain (trade norm, from memory).
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity, rangeProblem } from '../quantity/index.ts';
import { type LoadLimit, lb, loadLimit, overCautions, tightest } from './limits.ts';
import { RATING, RIG_WEIGHT, TONGUE_WEIGHT } from './ranges.ts';
import { bandProblem, type TongueBand, tongueCautions } from './tongue-band.ts';

/** Hitch class by gross trailer weight; null above class 4, outside the standard. */
export function hitchClass(trailer: Quantity): 1 | 2 | 3 | 4 | null {
  const pounds = lb(trailer);
  const limits = [2000, 3500, 5000, 10_000];
  const found = limits.findIndex((limit) => pounds <= limit * (1 + 1e-12));
  return found < 0 ? null : ((found + 1) as 1 | 2 | 3 | 4);
}

/** Test loads of a coupling, COMAR 11.13.08.10 table 1; pounds. Class 4 in multiples of the maximum gross trailer weight. */
export function couplingTestLoads(
  trailer: Quantity,
): { longitudinal: Quantity; transverse: Quantity; verticalUp: Quantity; verticalDown: Quantity } | null {
  const fixed: Readonly<Record<number, readonly [number, number, number]>> = {
    1: [6000, 2000, 2500],
    2: [10_500, 3000, 4500],
    3: [15_000, 4000, 7000],
  };
  const hitch = hitchClass(trailer);
  if (hitch === null) return null;
  const [long, across, vertical] = fixed[hitch] ?? [3 * lb(trailer), lb(trailer), 0];
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), trailer.unit);
  const up = hitch === 4 ? 1.3 * lb(trailer) : vertical;
  const down = hitch === 4 ? 1.4 * lb(trailer) : vertical;
  return { longitudinal: mass(long), transverse: mass(across), verticalUp: mass(up), verticalDown: mass(down) };
}

/**
 * Tongue weight a class is designed for, pounds: SAE J684 as printed in a club newsletter (second-hand). Null where none is
 * listed: class 3 and 4 without weight distribution.
 */
export function tongueDesignMax(trailer: Quantity, weightDistributing: boolean): Quantity | null {
  const hitch = hitchClass(trailer);
  const listed: Readonly<Record<number, readonly [carrying: number, distributing: number]>> = {
    1: [200, 300],
    2: [300, 500],
  };
  const fixed = hitch === null ? undefined : listed[hitch];
  if (fixed !== undefined) return convert(quantity(fixed[weightDistributing ? 1 : 0], 'lb'), trailer.unit);
  return hitch !== null && weightDistributing ? quantity(0.15 * trailer.value, trailer.unit) : null;
}

/** Typical capacity of a ball by its size and shank; the stamped value wins. Source: a summary of SAE J684 (2005). */
const BALLS: readonly (readonly [ball: string, shank: string, lb: number])[] = [
  ['1-7/8', '3/4', 2000],
  ['1-7/8', '1', 2000],
  ['2', '3/4', 3500],
  ['2', '1', 6000],
  ['2', '1-1/4', 6000],
  ['2', '1-3/8', 10_000],
  ['2-5/16', '1', 6000],
  ['2-5/16', '1-1/4', 10_000],
];

/** The typical capacity, or null for a combination that is not listed. */
export function ballCapacityTypical(ball: string, shank: string): Quantity | null {
  const plain = (text: string) =>
    text
      .replace(/\s*(?:in\.?|inch(?:es)?|["″”])$/i, '')
      .trim()
      .replace(/\s+/g, '-');
  const found = BALLS.find(([b, s]) => b === plain(ball) && s === plain(shank));
  return found === undefined ? null : quantity(found[2], 'lb');
}

export interface HitchPart {
  /** `ball`, `coupler`, `receiver`, `ball mount`, `bars`. */
  readonly what: string;
  readonly gross?: Quantity | undefined;
  readonly tongue?: Quantity | undefined;
  readonly origin: string;
}

export interface HitchChain {
  readonly class: 1 | 2 | 3 | 4 | null;
  readonly limits: readonly LoadLimit[];
  readonly chainEach: { readonly needed: Quantity; readonly breaking: Quantity; readonly holds: boolean } | null;
  /** The link with the least left, and its origin. */
  readonly limitedBy: string;
  readonly holds: boolean;
  readonly cautions: readonly string[];
}

/** Breaking strength over working load limit of grade 30 chain: trade norm, from memory. */
const CHAIN_FACTOR = 4;

export interface HitchChainInput {
  /** The trailer's whole weight as towed, or its GVWR, whichever is more. */
  readonly trailer: Quantity;
  readonly tongue: Quantity;
  /** Every rated part with what its label or stamp says. */
  readonly parts: readonly HitchPart[];
  /** Strength of each chain: breaking, or working load limit (taken times four, and said so). */
  readonly chain?:
    | { readonly breaking?: Quantity | undefined; readonly workingLoad?: Quantity | undefined }
    | undefined;
  readonly band?: TongueBand | undefined;
}

const rated = (rating: Quantity | undefined): rating is Quantity => rating !== undefined && lb(rating) > 0;

/** What keeps the chain of ratings from being told, or null. */
function hitchProblem(input: HitchChainInput): Problem | null {
  const wrong =
    rangeProblem([
      ['trailer', input.trailer, RIG_WEIGHT],
      ['tongue', input.tongue, TONGUE_WEIGHT],
      ['chain.breaking', input.chain?.breaking, RATING],
      ['chain.workingLoad', input.chain?.workingLoad, RATING],
      ...input.parts.flatMap((part, i) => [
        [`parts.${i}.gross`, part.gross, RATING] as const,
        [`parts.${i}.tongue`, part.tongue, RATING] as const,
      ]),
    ]) ?? bandProblem(input.band);
  if (wrong !== null) return wrong;
  if (lb(input.trailer) <= 0 || lb(input.tongue) <= 0 || lb(input.tongue) >= lb(input.trailer)) {
    return {
      code: 'loads.tongue-impossible',
      what: 'A tongue carries part of its trailer: more than nothing, less than all (100 %).',
      where: 'tongue',
      expected: 'a tongue weight below the trailer’s weight',
    };
  }
  const unrated = input.parts.findIndex((part) => !rated(part.gross) && !rated(part.tongue));
  if (input.parts.length > 0 && unrated < 0) return null;
  return {
    code: 'loads.part-unrated',
    what: unrated < 0 ? 'No part was given.' : `${input.parts[unrated]!.what} carries no rating.`,
    where: unrated < 0 ? 'parts' : `parts.${unrated}`,
    expected: 'a gross or a tongue rating read from its label or stamp',
    next: 'A part without a readable rating is unproven: it does not count as strong enough.',
  };
}

/** Both loads against every rating of every part, the tightest first. */
function partLimits({ trailer, tongue, parts }: HitchChainInput): readonly LoadLimit[] {
  return parts
    .flatMap(({ what, gross, tongue: onTongue, origin }) => [
      ...(rated(gross) ? [loadLimit(`${what}, gross`, trailer, { rating: gross, origin })] : []),
      ...(rated(onTongue) ? [loadLimit(`${what}, tongue`, tongue, { rating: onTongue, origin })] : []),
    ])
    .sort((a, b) => b.used.value - a.used.value);
}

/** Each chain on its own against the whole trailer; null where no strength was given. */
function chainOf({ chain, trailer }: HitchChainInput): HitchChain['chainEach'] {
  const { breaking, workingLoad } = chain ?? {};
  const strengths = [
    ...(breaking === undefined ? [] : [lb(breaking)]),
    ...(workingLoad === undefined ? [] : [CHAIN_FACTOR * lb(workingLoad)]),
  ];
  if (strengths.length === 0) return null;
  const strength = Math.min(...strengths);
  return {
    needed: trailer,
    breaking: convert(quantity(strength, 'lb'), trailer.unit),
    holds: strength >= lb(trailer),
  };
}

/**
 * Class, chain of ratings and safety chains. A load that no given part is rated for is unproven, and then nothing holds.
 *
 * @returns `loads.tongue-impossible`, `loads.part-unrated`, and those of ranges
 */
export function hitchChain(input: HitchChainInput): Result<HitchChain> {
  const wrong = hitchProblem(input);
  if (wrong !== null) return fail(wrong);
  const limits = partLimits(input);
  const chainEach = chainOf(input);
  const unproven = [
    ...(input.parts.some((part) => rated(part.gross)) ? [] : ['No part was given with a gross rating: unproven.']),
    ...(input.parts.some((part) => rated(part.tongue))
      ? []
      : ['No part was given with a tongue rating, which stands on the receiver and the ball mount: unproven.']),
    ...(chainEach === null ? ['The chains were not rated: unproven.'] : []),
  ];
  const cautions = [...overCautions(limits), ...unproven];
  if (chainEach !== null && !chainEach.holds)
    cautions.push(
      `Each chain must break no lower than ${formatQuantity(input.trailer)}; this one breaks at ${formatQuantity(chainEach.breaking, { digits: 0 })}.`,
    );
  if (input.chain?.workingLoad !== undefined && chainEach !== null)
    cautions.push('Breaking strength taken as at most four times the working load limit: the norm of grade 30 chain.');
  cautions.push(...tongueCautions((100 * lb(input.tongue)) / lb(input.trailer), input.band));
  const hitch = hitchClass(input.trailer);
  if (hitch === null) cautions.push('Over 10,000 lb: outside SAE J684, whose classes end at 4.');
  cautions.push(
    'Hold every part and chain against the trailer’s GVWR where that is more than it weighs today.',
    'Chains cross under the tongue, with slack for turns, not dragging; the coupler’s latch pinned.',
  );
  const over = limits.some((limit) => limit.margin.value < 0);
  return ok({
    class: hitch,
    limits,
    chainEach,
    limitedBy: chainEach?.holds === false ? 'the safety chains' : tightest(limits, 'the parts given'),
    holds: !over && unproven.length === 0 && chainEach?.holds === true,
    cautions,
  });
}
