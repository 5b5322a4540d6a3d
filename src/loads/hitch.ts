/**
 * `hitch-chain`: class, ball, chains and every rating between tow vehicle and trailer; the weakest link is named.
 *
 * Sources: class limits of SAE J684, identical in Maryland COMAR 11.13.08.04; chain strength: SAE J684 as summarised, New
 * Hampshire RSA 266:63 and 49 CFR 393.70 (the breaking strength of each chain not below the trailer's gross weight); breaking
 * strength is four times the working load limit for grade 30 chain (trade norm, from memory).
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { type LoadLimit, lb, loadLimit, overCautions, tightest } from './limits.ts';

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
      .replace(/\s*in\.?$/, '')
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

/**
 * @param input.trailer the trailer's whole weight as towed (or its GVWR)
 * @param input.parts every rated part with what its label or stamp says
 * @param input.chain strength of each chain: breaking, or working load limit (taken times four, and said so)
 */
export function hitchChain(input: {
  readonly trailer: Quantity;
  readonly tongue: Quantity;
  readonly parts: readonly HitchPart[];
  readonly chain?:
    | { readonly breaking?: Quantity | undefined; readonly workingLoad?: Quantity | undefined }
    | undefined;
}): Result<HitchChain> {
  if (lb(input.trailer) <= 0 || lb(input.tongue) <= 0 || lb(input.tongue) >= lb(input.trailer)) {
    return fail({
      code: 'loads.tongue-impossible',
      what: 'A tongue carries part of its trailer: more than nothing, less than all (100 %).',
      where: 'tongue',
      expected: 'a tongue weight below the trailer’s weight',
    });
  }
  const unrated = input.parts.findIndex((part) =>
    [part.gross, part.tongue].every((rating) => rating === undefined || lb(rating) <= 0),
  );
  if (input.parts.length === 0 || unrated >= 0) {
    return fail({
      code: 'loads.part-unrated',
      what: unrated < 0 ? 'No part was given.' : `${input.parts[unrated]!.what} carries no rating.`,
      where: unrated < 0 ? 'parts' : `parts.${unrated}`,
      expected: 'a gross or a tongue rating read from its label or stamp',
      next: 'A part without a readable rating is unproven: it does not count as strong enough.',
    });
  }
  const limits = input.parts
    .flatMap((part) => [
      ...(part.gross === undefined || lb(part.gross) <= 0
        ? []
        : [loadLimit(`${part.what}, gross`, input.trailer, { rating: part.gross, origin: part.origin })]),
      ...(part.tongue === undefined || lb(part.tongue) <= 0
        ? []
        : [loadLimit(`${part.what}, tongue`, input.tongue, { rating: part.tongue, origin: part.origin })]),
    ])
    .sort((a, b) => b.used.value - a.used.value);
  const { breaking, workingLoad } = input.chain ?? {};
  const strength =
    breaking === undefined ? (workingLoad === undefined ? null : CHAIN_FACTOR * lb(workingLoad)) : lb(breaking);
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), input.trailer.unit);
  const chainEach =
    strength === null
      ? null
      : { needed: input.trailer, breaking: mass(strength), holds: strength >= lb(input.trailer) };
  const cautions = [...overCautions(limits)];
  if (chainEach !== null && !chainEach.holds)
    cautions.push(
      `Each chain must break no lower than ${formatQuantity(input.trailer)}; this one breaks at ${formatQuantity(chainEach.breaking, { digits: 0 })}.`,
    );
  if (breaking === undefined && workingLoad !== undefined)
    cautions.push('Breaking strength taken as four times the working load limit: the norm of grade 30 chain.');
  if (strength === null) cautions.push('The chains were not rated: unproven.');
  const hitch = hitchClass(input.trailer);
  if (hitch === null) cautions.push('Over 10,000 lb: outside SAE J684, whose classes end at 4.');
  cautions.push('Chains cross under the tongue, with slack for turns, not dragging; the coupler’s latch pinned.');
  const over = limits.some((limit) => limit.margin.value < 0);
  return ok({
    class: hitch,
    limits,
    chainEach,
    limitedBy: chainEach?.holds === false ? 'the safety chains' : tightest(limits, 'the parts given'),
    holds: !over && chainEach?.holds === true,
    cautions,
  });
}
