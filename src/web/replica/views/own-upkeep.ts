import { withOverrides } from '../../../catalog/index.ts';
import { settingsOf } from '../../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { slugOf } from './form.ts';

/** An upkeep that no source here knows, as it is filled in. */
export interface OwnUpkeepAsk {
  readonly title: string;
  /** A kind of part that is on the rig. */
  readonly part: string;
  readonly every: string;
  readonly unit: string;
  /** `safety`, `damage` or `comfort`: what is at stake. */
  readonly severity: string;
  readonly minutes: string;
  /** What it costs when it fails on the road, in money. */
  readonly failureCost: string;
  readonly source: string;
}

const CLOCKS: Readonly<Record<string, (every: number) => object>> = {
  mi: (every) => ({ kind: 'miles', every: `${every} mi` }),
  km: (every) => ({ kind: 'miles', every: `${every} km` }),
  months: (every) => ({ kind: 'months', every }),
  years: (every) => ({ kind: 'months', every: every * 12 }),
  nights: (every) => ({ kind: 'nights', every }),
};
export const OWN_UNITS = Object.keys(CLOCKS);

/** The owner's upkeep as a setting. Problems: `handbook.own`, one a field, and whatever the catalog has against it. */
export function ownUpkeepOf(
  keeper: Keeper,
  ask: OwnUpkeepAsk,
): Result<{ readonly key: string; readonly value: unknown }> {
  const problems: Problem[] = [];
  const wrong = (where: string, what: string, expected: string): void => {
    problems.push({ code: 'handbook.own', what, where, expected });
  };
  const number = (where: string, text: string, least: number, expected: string): number => {
    const value = Number(text.replaceAll(',', ''));
    if (text.trim() === '' || !(value >= least)) wrong(where, `“${text}” does not fit`, expected);
    return value;
  };
  if (ask.title.trim() === '') wrong('title', 'It has no name yet', 'what is to be done, in a few words');
  const every = number('every', ask.every, Number.MIN_VALUE, 'a number above 0');
  const minutes = number('minutes', ask.minutes, 1, 'minutes, 1 or more');
  const failureCost = number('failureCost', ask.failureCost, 0, 'money, 0 or more');
  if (ask.source.trim() === '')
    wrong('source', 'Say where it comes from', 'a handbook and its page, or whose practice it is');
  const clock = CLOCKS[ask.unit]?.(every);
  if (clock === undefined) wrong('unit', `“${ask.unit}” is no unit for this`, OWN_UNITS.join(', '));
  const [first, ...more] = problems;
  if (first !== undefined) return fail(first, ...more);
  const key = `own-upkeep/${slugOf(ask.title)}`;
  if (settingsOf(keeper.state, 'own-upkeep').has(slugOf(ask.title)))
    return fail({
      code: 'handbook.own',
      what: `You have an upkeep of that name already`,
      where: 'title',
      expected: 'another name, or take the earlier one back first',
    });
  const value = {
    title: ask.title.trim(),
    part: ask.part,
    clocks: [clock],
    severity: ask.severity,
    minutes,
    failureCost,
    source: ask.source.trim(),
  };
  const others = (['own-part-kind', 'own-upkeep', 'override'] as const).flatMap((kind) =>
    [...settingsOf(keeper.state, kind)].map(([about, one]) => ({ key: `${kind}/${about}`, value: one as unknown })),
  );
  const [against, ...rest] = withOverrides(keeper.catalog, [...others, { key, value }]).problems.filter(
    ({ where }) => where === `setting ${key}`,
  );
  return against === undefined ? ok({ key, value }) : fail(against, ...rest);
}
