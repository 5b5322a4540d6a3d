import { describe, expect, it } from 'vitest';
import { catalogOf, mi, Pen, partKind, upkeep } from '../../test/support/rig.ts';
import type { Clock } from '../catalog/index.ts';
import { dayNumber, weekdayOf } from '../dates/index.ts';
import { lookAhead } from '../outlook/index.ts';
import { makePlan, type PlanModel } from './index.ts';
import { costOf } from './optimise/index.ts';

const source = 'practice';
const months = (every: number): Clock => ({ kind: 'months', every, source });
const wheelOff = { id: 'wheel-off', title: 'Wheel off', minutes: 40, tools: ['jack'], steps: [], cautions: [] };
const afterWheelOff: Clock = {
  kind: 'after',
  setups: ['wheel-off'],
  upkeeps: [],
  atMiles: [mi(10), mi(25), mi(50)],
  atDays: [],
  source,
};
const now = '2026-05-20';

const catalog = catalogOf(
  [partKind('bearings'), partKind('brake'), partKind('wheel-nuts'), partKind('roof'), partKind('alarm')],
  [
    upkeep('repack', 'bearings', [months(12)], {
      setups: ['wheel-off'],
      minutes: 45,
      tools: ['grease-gun'],
      consumables: [{ what: 'grease', quantity: '1 tub', leadDays: 9, cost: 8 }],
    }),
    upkeep('adjust', 'brake', [months(14)], { setups: ['wheel-off'], minutes: 15, goesAfter: ['repack'] }),
    upkeep('retorque', 'wheel-nuts', [afterWheelOff], { place: 'anywhere', minutes: 10 }),
    upkeep('inspect-roof', 'roof', [months(3)], { severity: 'damage', minutes: 60 }),
    upkeep('renew-alarm', 'alarm', [{ kind: 'age', by: 60, countedFrom: 'made', label: 'governs', source }], {
      minutes: 20,
    }),
  ],
  [wheelOff],
);

function rig(): Pen {
  const pen = new Pen();
  const fitted = (part: string, kind: string, more = {}) =>
    pen.write('fit', '2025-01-05', { part, kind, isNew: false, ...more });
  fitted('bearings-axle-1-left', 'bearings', { place: 'axle 1, left' });
  fitted('bearings-axle-1-right', 'bearings', { place: 'axle 1, right' });
  fitted('brake-axle-1-left', 'brake', { place: 'axle 1, left' });
  fitted('wheel-nuts', 'wheel-nuts');
  fitted('roof', 'roof');
  fitted('alarm', 'alarm');
  pen.write('reading', '2025-06-10', { vehicle: 'trailer', what: 'odometer', value: mi(10_000) });
  const done = (duty: string, part: string) => ({ upkeep: duty, part, outcome: 'good' as const });
  pen.write('work', '2025-06-14', {
    done: [
      done('repack', 'bearings-axle-1-left'),
      done('repack', 'bearings-axle-1-right'),
      done('adjust', 'brake-axle-1-left'),
      done('inspect-roof', 'roof'),
    ],
    odometer: mi(10_000),
  });
  pen.write('work', '2025-06-20', { done: [done('retorque', 'wheel-nuts')], odometer: mi(10_060) });
  pen.write('trip', '2026-05-01', {
    trip: 'palouse',
    name: 'Palouse',
    leave: '2026-06-12',
    return: '2026-06-21',
    miles: mi(640),
    chance: 1,
  });
  pen.write('trip', '2026-05-01', {
    trip: 'coast',
    name: 'Coast',
    leave: '2026-07-10',
    return: '2026-07-20',
    miles: mi(900),
    chance: 1,
  });
  pen.write('set', '2026-05-01', { key: 'free-days', value: { weekdays: [0, 6], hours: 6 } });
  return pen;
}

function planned(pen: Pen, at = now): PlanModel {
  const made = makePlan(lookAhead(pen.state(), catalog, { now: at, paths: 256 }));
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made.value;
}

const dayOf = ({ plan }: PlanModel, part: string): string | undefined =>
  plan.days.find((day) => day.jobs.some((job) => job.part === part))?.date;

describe('the plan', () => {
  it('recomputes to its stated cost, never below its bound', () => {
    const { plan, placement } = planned(rig());
    expect(costOf(placement.instance, placement.visits)).toBeCloseTo(plan.cost, 1);
    expect(plan.bound).toBeLessThanOrEqual(plan.cost + 0.01);
    expect(plan.bound).toBeGreaterThan(0);
  });

  it('names the safety work that its chance on the road comes from', () => {
    const { plan } = planned(rig());
    const none = plan.onRoad.reduce((left, { chance }) => left * (1 - chance), 1);
    expect(1 - none).toBeCloseTo(plan.chanceOnRoad, 2);
    // With no free day left before the trip, the bearings due on it run out there for certain.
    const late = planned(rig(), '2026-06-08').plan;
    expect(late.onRoad).toContainEqual(expect.objectContaining({ item: 'repack@bearings-axle-1-left', chance: 1 }));
    expect(late.chanceOnRoad).toBe(1);
  });

  it('does safety work that runs out on a trip before leaving, when its parts can be here', () => {
    const plan = planned(rig());
    const date = dayOf(plan, 'bearings-axle-1-left')!;
    // Due 14 June, during the June trip; grease takes nine days.
    expect(date >= '2026-05-29' && date < '2026-06-12').toBe(true);
    const day = plan.plan.days.find((yard) => yard.date === date)!;
    expect(day.parts).toContainEqual(expect.objectContaining({ what: 'grease', quantity: '2 × 1 tub', cost: 16 }));
    expect(day.parts[0]!.orderBy! >= now).toBe(true);
  });

  it('takes the wheels off once for what shares them, in working order, with one running total', () => {
    const { plan } = planned(rig());
    const day = plan.days.find((yard) => yard.jobs.some((job) => job.upkeep === 'repack'))!;
    const wheels = day.jobs.filter((job) => job.setups.includes('wheel-off'));
    expect(wheels.map((job) => job.upkeep)).toEqual(['repack', 'repack', 'adjust']);
    expect(day.minutes).toBe(40 + day.jobs.reduce((sum, job) => sum + job.minutes, 0));
    expect(day.jobs.at(-1)!.endsAtMinute).toBe(day.minutes);
    expect(day.minutes).toBeLessThanOrEqual(day.minutesFree);
    for (let i = 1; i < day.jobs.length; i++)
      expect(day.jobs[i]!.endsAtMinute).toBeGreaterThan(day.jobs[i - 1]!.endsAtMinute);
  });

  it('puts the follow-ups of that work on the trip after it', () => {
    const { plan } = planned(rig());
    expect(plan.onTheWay.filter((job) => job.upkeep === 'retorque').map((job) => [job.trip, job.at])).toEqual(
      [10, 25, 50].map((at) => ['palouse', mi(at)]),
    );
  });

  it('plans on free days only, and not while away', () => {
    const pen = rig();
    pen.write('set', '2026-05-02', { key: 'day/2026-06-06', value: { hours: 0 } });
    for (const { date } of planned(pen).plan.days) {
      expect([0, 6]).toContain(weekdayOf(dayNumber(date)));
      expect(date).not.toBe('2026-06-06');
      expect(date >= '2026-06-12' && date <= '2026-06-21').toBe(false);
    }
  });

  it('lays up after the last trip before the frost, and runs no water in between first and last freeze', () => {
    const season = (before: 'first freeze' | 'first trip'): Clock => ({ kind: 'season', before, source });
    const water = catalogOf(
      [partKind('water')],
      [
        upkeep('lay-up', 'water', [season('first freeze')], { severity: 'damage', minutes: 80 }),
        upkeep('flush', 'water', [season('first trip')], { severity: 'damage', minutes: 45, frostFree: true }),
      ],
    );
    const pen = rig();
    pen.write('fit', '2025-01-05', { part: 'water', kind: 'water', isNew: false });
    pen.write('set', '2026-05-01', { key: 'first-freeze', value: '10-12' });
    pen.write('set', '2026-05-01', { key: 'last-freeze', value: '04-20' });
    for (const [trip, leave, back] of [
      ['lakes', '2026-09-25', '2026-09-28'],
      ['spring', '2027-05-07', '2027-05-12'],
    ] as const)
      pen.write('trip', '2026-05-01', { trip, name: trip, leave, return: back, miles: mi(300), chance: 1 });
    const made = makePlan(lookAhead(pen.state(), water, { now, paths: 256 }));
    if (!made.ok) throw new Error(JSON.stringify(made.problems));
    const on = (id: string) =>
      made.value.plan.days.filter((day) => day.jobs.some((job) => job.upkeep === id)).map((day) => day.date);
    const [autumn] = on('lay-up');
    expect(autumn! > '2026-09-28' && autumn! < '2026-10-12').toBe(true);
    expect(on('flush').every((day) => day < '2026-10-12' || (day > '2027-04-20' && day < '2027-10-12'))).toBe(true);
    expect(on('flush').some((day) => day > '2027-04-20' && day < '2027-05-07')).toBe(true);
  });

  it('asks to read what is unproven first, a matter of minutes', () => {
    const { plan } = planned(rig());
    const job = plan.days.flatMap((day) => day.jobs).find((planned) => planned.part === 'alarm')!;
    expect(job).toMatchObject({ minutes: 5, setups: [] });
    expect(job.title).toMatch(/^Read and write down/);
  });

  it('keeps to a pinned day, for a price', () => {
    const free = planned(rig());
    const pen = rig();
    const other = dayOf(free, 'roof') === '2026-06-06' ? '2026-06-07' : '2026-06-06';
    pen.write('set', '2026-05-02', { key: 'pin/inspect-roof.roof', value: { day: other, how: 'on' } });
    const pinned = planned(pen);
    expect(dayOf(pinned, 'roof')).toBe(other);
    expect(pinned.plan.days.flatMap((day) => day.jobs).find((job) => job.part === 'roof')!.pinned).toBe(true);
    expect(pinned.plan.cost).toBeGreaterThanOrEqual(free.plan.bound);
  });

  it('says so when no free day is left before a trip', () => {
    const { plan } = planned(rig(), '2026-06-08');
    // The next Saturday lies in the trip.
    expect(plan.warnings.join(' ')).toContain('No free day before Palouse');
  });

  it('explains each placement with its numbers', () => {
    for (const job of planned(rig()).plan.days.flatMap((day) => day.jobs)) {
      expect(job.why).toMatch(/\d/);
      expect(job.why).toMatch(/all else kept|No other free day|Not on record/);
    }
  });

  it('a dearer afternoon never means more of them', () => {
    const model = lookAhead(rig().state(), catalog, { now, paths: 256 });
    const days = (appetite: 'least money' | 'fewest afternoons') => {
      const made = makePlan(model, { appetite });
      return made.ok ? made.value.plan.days.length : Number.NaN;
    };
    expect(days('fewest afternoons')).toBeLessThanOrEqual(days('least money'));
  });
});

describe('a tentative trip', () => {
  it('counts the chance of going once: a job surely due on a trip that is made with 60 % comes due on the road with 60 %', () => {
    const pen = new Pen();
    pen.write('fit', '2025-01-05', { part: 'bearings', kind: 'bearings', isNew: false });
    pen.write('work', '2026-05-01', {
      done: [{ upkeep: 'repack', part: 'bearings', outcome: 'good' }],
      odometer: mi(10_000),
    });
    pen.write('reading', '2026-05-19', { vehicle: 'trailer', what: 'odometer', value: mi(13_900) });
    const maybe = { trip: 'maybe', name: 'Maybe', leave: '2026-06-12', return: '2026-06-21', miles: mi(1_000) };
    pen.write('trip', '2026-05-01', { ...maybe, chance: 0.6 });
    // No free day before the trip.
    for (const day of ['2026-05-23', '2026-05-24', '2026-05-30', '2026-05-31', '2026-06-06', '2026-06-07'])
      pen.write('set', now, { key: `day/${day}`, value: { hours: 0 } });
    const every: Clock = { kind: 'miles', every: mi(4_000), source };
    const small = catalogOf([partKind('bearings')], [upkeep('repack', 'bearings', [every], { minutes: 45 })]);
    const made = makePlan(lookAhead(pen.state(), small, { now }), { gapTarget: 0 });
    if (!made.ok) throw new Error(JSON.stringify(made.problems));
    expect(made.value.plan.chanceOnRoad).toBeCloseTo(0.6, 2);
  });
});
