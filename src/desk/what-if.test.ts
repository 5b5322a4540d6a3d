import { expect, it } from 'vitest';
import { idNumber } from '../../test/support/keeping.ts';
import { catalogOf, mi, Pen, partKind, upkeep } from '../../test/support/rig.ts';
import type { Entry } from '../logbook/index.ts';
import { lookAhead } from '../outlook/index.ts';
import { makePlan } from '../plan/index.ts';
import { whatIf } from './index.ts';

const now = '2026-05-20';
const catalog = catalogOf(
  [partKind('bearings')],
  [upkeep('repack', 'bearings', [{ kind: 'months', every: 12, source: 'practice' }], { minutes: 60 })],
);

function before() {
  const pen = new Pen();
  pen.write('fit', '2025-01-05', { part: 'bearings-1', kind: 'bearings', isNew: false });
  pen.write('work', '2025-06-14', { done: [{ upkeep: 'repack', part: 'bearings-1', outcome: 'good' }] });
  pen.write('trip', '2026-05-01', {
    trip: 'palouse',
    name: 'Palouse',
    leave: '2026-06-12',
    return: '2026-06-21',
    miles: mi(640),
    chance: 1,
  });
  const made = makePlan(lookAhead(pen.state(), catalog, { now, paths: 256 }), { gapTarget: 0 });
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made.value;
}

const set = (n: number, key: string, value: unknown): Entry =>
  ({
    id: idNumber(900 + n),
    rig: 'test-rig',
    kind: 'set',
    on: now,
    at: `${now}T12:00:00Z`,
    by: 'Ada',
    v: 1,
    body: { key, value },
  }) as Entry;

it('prices keeping a safety job off every day before the trip: the chance on the road goes up, and nothing is written', () => {
  const plan = before();
  const size = plan.placement.model.scene.state.entries.size;
  const closed = ['2026-05-23', '2026-05-24', '2026-05-30', '2026-05-31', '2026-06-06', '2026-06-07'].map((date, i) =>
    set(i, `day/${date}`, { hours: 0 }),
  );
  const tried = whatIf(plan, closed, { now, paths: 256 }, { gapTarget: 0 });
  if (!tried.ok) throw new Error(JSON.stringify(tried.problems));
  expect(plan.plan.chanceOnRoad).toBe(0);
  expect(tried.value.price.chanceOnRoad).toBe(1);
  expect(tried.value.planModel.plan.warnings.join(' ')).toContain('No free day before Palouse');
  expect(plan.placement.model.scene.state.entries.size).toBe(size);
});

it('a dearer hour costs its money and changes no chance', () => {
  const tried = whatIf(before(), [set(1, 'hourly-value', 50)], { now, paths: 256 }, { gapTarget: 0 });
  if (!tried.ok) throw new Error(JSON.stringify(tried.problems));
  expect(tried.value.price.money).toBeGreaterThan(0);
  expect(tried.value.price.chanceOnRoad).toBe(0);
});
