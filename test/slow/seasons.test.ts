import { describe, expect, it } from 'vitest';
import { season } from '../../bench/seasons/calibrate.ts';
import { calibrate, compareHabits } from '../../bench/seasons/study.ts';
import { seasonsOf } from '../../bench/seasons/value.ts';

/**
 * The studies of docs/calibration.md on fewer seasons: fixed seeds, bounds of about three standard errors of so few. The page itself is
 * made from many more.
 */
const seeds = (count: number, first: number): number[] => Array.from({ length: count }, (_, i) => first + i);

describe('forty seasons', () => {
  const study = calibrate(seeds(40, 501).map(season));

  it('come true by the stated dates as often as stated', () => {
    const [all, ...groups] = study.dates;
    for (const [k, level] of [0.1, 0.5, 0.9].entries()) {
      const { share, error, count } = all!.levels[k]!;
      expect(count).toBeGreaterThan(350);
      expect(Math.abs(share - level)).toBeLessThan(0.03 + 2 * error);
      expect(error).toBeLessThan(0.06);
      for (const group of groups)
        expect(Math.abs(group.levels[k]!.share - level)).toBeLessThan(0.03 + 3 * group.levels[k]!.error);
    }
  });

  it('run out before a return as often as said', () => {
    expect(study.never.share).toBeLessThan(0.01);
    expect(study.surely.share).toBeGreaterThan(0.99);
    for (const { said, came } of study.trips)
      expect(Math.abs(came.share - said)).toBeLessThan(0.04 + 3 * Math.max(came.error, 0.01));
  });
});

describe('forty rigs kept four ways for two years', () => {
  it('stand by the roadside least, and at no more cost, by the plan', () => {
    const [plan, spring, due, all] = compareHabits(seeds(40, 501).map(seasonsOf));
    for (const habit of [spring!, due!, all!]) {
      expect(plan!.roadside.mean).toBeLessThan(habit.roadside.mean / 2);
      expect(plan!.roadsideSafety.mean).toBeLessThan(habit.roadsideSafety.mean / 2);
    }
    for (const habit of [spring!, due!]) expect(habit.more.mean).toBeGreaterThan(-2 * habit.more.error);
    expect(all!.more.mean).toBeGreaterThan(2 * all!.more.error);
    // Waiting until it falls due saves the most work there is to save; failures eat it up.
    expect(due!.work.mean).toBeLessThan(plan!.work.mean);
  });
});
