/** Checked against the plan's cost recomputed from the instance, with the job on the other day. */
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { DEMO_TODAY, demoEntries } from '../../test/support/demo.ts';
import { openDesk } from '../desk/index.ts';
import { foldEntries } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { otherDays } from './index.ts';
import { costOf } from './optimise/index.ts';

const desk = openDesk(foldEntries(demoEntries()), shippedCatalog(), { now: DEMO_TODAY, paths: 64 });
const { plan, placement } = unwrap(desk.planModel());

describe('the price of every other day', () => {
  it('is what the plan costs more with the jobs there, and none where that breaks a rule', () => {
    const { instance, jobs, visits } = placement;
    let priced = 0;
    let barred = 0;
    for (const day of plan.days) {
      for (const planned of day.jobs.slice(0, 4)) {
        const prices = otherDays(placement, [planned.item], day.date);
        expect(prices).toHaveLength(instance.slots);
        const from = prices.findIndex((one) => one.date === day.date) + 1;
        expect(prices[from - 1]!.more).toBeCloseTo(0, 6);
        const j = jobs.findIndex(
          (job, at) => job.looks.some((look) => look.item.id === planned.item) && visits[at]!.includes(from),
        );
        prices.forEach(({ more }, i) => {
          const moved = visits.map((slots, at) =>
            at === j ? slots.map((slot) => (slot === from ? i + 1 : slot)) : slots,
          );
          if (more === null) {
            barred += 1;
            expect(() => costOf(instance, moved)).toThrow();
          } else {
            priced += 1;
            expect(costOf(instance, moved) - costOf(instance, visits)).toBeCloseTo(more, 6);
          }
        });
      }
    }
    expect(priced).toBeGreaterThan(20);
    expect(barred).toBeGreaterThan(20);
  });

  it('says nothing of what does not stand there', () => {
    expect(otherDays(placement, ['nothing@nowhere'], plan.days[0]!.date)).toEqual([]);
  });
});
