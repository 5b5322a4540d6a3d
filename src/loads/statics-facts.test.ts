/** Hitch, tow vehicle, cargo and grades by statics worked beside each check, and at the edges of what is asked. */

import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import {
  ballCapacityTypical,
  couplingTestLoads,
  gradeForce,
  heightRestored,
  hitchChain,
  hitchClass,
  hitchStatics,
  loadChange,
  payloadLeft,
  tongueDesignMax,
  towVehicle,
} from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const lb = (value: number) => quantity(value, 'lb');
const rated = (value: number, origin = 'its label') => ({ rating: lb(value), origin });
const refused = (result: Result<unknown>) => {
  if (result.ok) throw new Error(`answered: ${JSON.stringify(result.value)}`);
  const { code, where, what, expected } = result.problems[0]!;
  expect([what, expected].every((text) => typeof text === 'string' && text.length > 5)).toBe(true);
  return `${code} at ${where}`;
};

/** Wheelbase 120 in, ball 60 in behind the rear axle, trailer axles 180 in behind the ball: easy by hand. */
const geometry = { wheelbase: q('10 ft'), overhang: q('5 ft'), ballToAxles: q('15 ft') };

describe('hitch statics', () => {
  it('a tongue of 600 lb half a wheelbase behind the axle: front −300, rear +900', () => {
    const statics = unwrap(hitchStatics({ ...geometry, tongue: lb(600) }));
    expect(statics.front.value).toBeCloseTo(-300, 9);
    expect(statics.rear.value).toBeCloseTo(900, 9);
    expect(statics.withMoment).toBeNull();
    expect(statics.tongueShare).toBeNull();
    expect(statics.cautions).toHaveLength(1);
  });

  it('the moment that brings 300 lb back to the front: 2,250 lb-ft puts 150 lb on the axles', () => {
    // M = T·H·L/(L+H) = 600·5·15/20 = 2,250 lb-ft; axles M/L = 150; front −300 + 2,250·20/(15·10) = 0; rear 900 − 2,250·30/150 = 450.
    const full = unwrap(hitchStatics({ ...geometry, tongue: lb(600), restore: q('100 %') }));
    expect(full.momentForFullRestore.value).toBeCloseTo(2250, 6);
    expect(full.momentForFullRestore.unit).toBe('lb-ft');
    const { front, rear, axles, moment, frontRestored } = full.withMoment!;
    expect(front.value).toBeCloseTo(0, 6);
    expect(rear.value).toBeCloseTo(450, 6);
    expect(axles.value).toBeCloseTo(150, 6);
    expect(moment.value).toBeCloseTo(2250, 6);
    expect(frontRestored.value).toBeCloseTo(100, 9);
    expect(full.cautions).toHaveLength(1);
  });

  it('a moment given is a share of that: 1,125 lb-ft restore half', () => {
    const half = unwrap(hitchStatics({ ...geometry, tongue: lb(600), moment: q('1,125 lb-ft') }));
    expect(half.withMoment!.frontRestored.value).toBeCloseTo(50, 6);
    expect(half.withMoment!.front.value).toBeCloseTo(-150, 6);
    const over = unwrap(hitchStatics({ ...geometry, tongue: lb(600), moment: q('2,300 lb-ft') }));
    expect(over.cautions.join()).toContain('too hard');
    const none = unwrap(hitchStatics({ ...geometry, tongue: lb(600), restore: q('0 %') }));
    expect(none.withMoment!.front.value).toBeCloseTo(-300, 9);
    expect(unwrap(hitchStatics({ ...geometry, tongue: lb(600), restore: q('150 %') })).cautions).toHaveLength(2);
  });

  it('a tongue is above nothing and below the whole trailer', () => {
    const share = unwrap(hitchStatics({ ...geometry, tongue: lb(600), trailer: lb(5000) })).tongueShare!;
    expect(share.value).toBeCloseTo(12, 9);
    expect(refused(hitchStatics({ ...geometry, tongue: lb(600), trailer: lb(600) }))).toBe(
      'loads.tongue-impossible at tongue',
    );
    expect(refused(hitchStatics({ ...geometry, tongue: lb(0) }))).toBe('loads.tongue-impossible at tongue');
    const [none, all] = [lb(0), lb(700)].map((tongue) => hitchStatics({ ...geometry, tongue, trailer: lb(600) }));
    expect(JSON.stringify(none)).toContain('presses on no ball');
    expect(JSON.stringify(all)).toContain('over 100 %');
    expect(refused(hitchStatics({ ...geometry, tongue: lb(600), restore: q('-1 %') }))).toBe(
      'loads.restore at restore',
    );
    expect(refused(hitchStatics({ ...geometry, tongue: lb(600), restore: q('151 %') }))).toBe(
      'loads.restore at restore',
    );
  });

  it('every length is above zero', () => {
    for (const length of ['wheelbase', 'overhang', 'ballToAxles'] as const)
      expect(refused(hitchStatics({ ...geometry, [length]: q('0 ft'), tongue: lb(600) }))).toBe(
        'loads.geometry at wheelbase',
      );
  });

  it('fender heights: back to where it was alone is whole, above slack or below alone is wrong', () => {
    const at = (set: string) => unwrap(heightRestored({ solo: q('38 in'), slack: q('40 in'), set: q(set) }));
    expect(at('38 in').frontRestored.value).toBeCloseTo(100, 9);
    expect(at('38 in').cautions).toEqual([]);
    expect(at('39 in').cautions).toEqual([]);
    expect(at('39.1 in').cautions.join()).toContain('less than half');
    expect(at('40 in').frontRestored.value).toBe(0);
    expect(at('37.9 in').cautions.join()).toContain('too hard');
    const asked = (solo: string, slack: string, set: string) =>
      heightRestored({ solo: q(solo), slack: q(slack), set: q(set) });
    expect(refused(asked('38 in', '40 in', '40.1 in'))).toBe('loads.heights at set');
    expect(refused(asked('38 in', '38 in', '38 in'))).toBe('loads.heights at slack');
    expect(refused(asked('38 in', '38.2 in', '38 in'))).toBe('loads.heights at slack');
    expect(asked('38 in', '38.25 in', '38 in').ok).toBe(true);
    expect(refused(asked('0 in', '40 in', '38 in'))).toMatch(/ at solo$/);
    expect(refused(asked('38 in', '40 in', '0 in'))).toMatch(/ at set$/);
  });
});

describe('the tow vehicle under its tongue', () => {
  const solo = { front: lb(3000), rear: lb(2500) };
  const base = { ...geometry, solo, tongue: lb(600), restore: q('50 %') };

  it('before, slack and set, with half the front restored', () => {
    // Slack 2,700/3,400. Half of 2,250 lb-ft: axles +75, front 2,850, rear 3,175.
    const { before, slack, after, toAxles, cautions, limitedBy } = unwrap(towVehicle(base));
    expect([before.front.value, before.rear.value, before.total.value]).toEqual([3000, 2500, 5500]);
    expect(slack.front.value).toBeCloseTo(2700, 9);
    expect(slack.rear.value).toBeCloseTo(3400, 9);
    expect(slack.total.value).toBeCloseTo(6100, 9);
    expect(after.front.value).toBeCloseTo(2850, 6);
    expect(after.rear.value).toBeCloseTo(3175, 6);
    expect(after.total.value).toBeCloseTo(6025, 6);
    expect(toAxles.value).toBeCloseTo(75, 6);
    expect(cautions.join()).toContain('no weighing');
    expect(limitedBy).toMatch(/as given/);
  });

  it('what is put aboard splits by its place: 200 lb 6 ft ahead of the rear axle are 120 in front, 80 behind', () => {
    const aboard = [
      { what: 'cooler', weight: lb(200), ahead: q('6 ft') },
      { what: 'bicycle', weight: lb(50), ahead: q('-2 ft') },
    ];
    // The bicycle behind the axle takes 10 lb off the front and puts 60 on the rear.
    const { before } = unwrap(towVehicle({ ...base, aboard }));
    expect(before.front.value).toBeCloseTo(3110, 6);
    expect(before.rear.value).toBeCloseTo(2640, 6);
    expect(before.total.value).toBeCloseTo(5750, 6);
  });

  it('each axle against its rating at its worst: slack for the rear, alone for a front that gets lighter', () => {
    const ratings = { frontAxle: rated(3000), rearAxle: rated(3400), vehicle: rated(6100), tongue: rated(600) };
    const { limits, cautions } = unwrap(towVehicle({ ...base, ratings }));
    const load = (what: string) => limits.find((limit) => limit.what === what)!.load.value;
    expect(load('front axle')).toBeCloseTo(3000, 9);
    expect(load('rear axle')).toBeCloseTo(3400, 9);
    expect(load('tow vehicle')).toBeCloseTo(6100, 9);
    expect(load('tongue')).toBe(600);
    expect(cautions).toHaveLength(1);
    // Set half as far again, the front carries 150 lb more than alone.
    const hard = unwrap(towVehicle({ ...base, restore: q('150 %'), ratings }));
    expect(hard.limits[0]).toMatchObject({ what: 'front axle' });
    expect(hard.limits[0]!.load.value).toBeCloseTo(3150, 6);
    expect(hard.cautions.join()).toMatch(/Over: front axle by 15[01] lb/);
    expect(hard.limitedBy).toBe('front axle');
  });

  it('refuses what cannot be', () => {
    expect(unwrap(towVehicle({ ...base, tongue: lb(0) })).after.total.value).toBeCloseTo(5500, 9);
    expect(refused(towVehicle({ ...base, tongue: lb(-1) }))).toBe('loads.restore at tongue');
    expect(refused(towVehicle({ ...base, restore: q('-1 %') }))).toBe('loads.restore at restore');
    expect(refused(towVehicle({ ...base, restore: q('151 %') }))).toBe('loads.restore at restore');
    expect(refused(towVehicle({ ...base, wheelbase: q('0 ft') }))).toBe('loads.geometry at wheelbase');
    expect(refused(towVehicle({ ...base, solo: { ...solo, rear: lb(0) } }))).toBe('loads.reading at solo.rear');
    expect(refused(towVehicle({ ...base, solo: { ...solo, front: lb(0) } }))).toBe('loads.reading at solo.front');
    expect(refused(towVehicle({ ...base, ratings: { rearAxle: rated(0) } }))).toBe('loads.rating at ratings.rearAxle');
    // Half of 6,000 lb comes off a front of 3,000: nothing is left on it.
    expect(refused(towVehicle({ ...base, tongue: lb(6000) }))).toBe('loads.front-lifts at tongue');
    expect(towVehicle({ ...base, tongue: lb(5900) }).ok).toBe(true);
  });

  it('150 lb a person come off the payload, and the cargo (a truck maker’s manual)', () => {
    expect(payloadLeft({ payload: lb(1500), people: 2, cargo: lb(100) })).toEqual(lb(1100));
    expect(payloadLeft({ payload: lb(1500), people: 0 })).toEqual(lb(1500));
    expect(payloadLeft({ payload: q('700 kg'), people: 2 }).value).toBeCloseTo(700 - 300 * 0.45359237, 6);
  });
});

describe('moving cargo', () => {
  const trailer = { tongue: lb(600), axles: lb(5400), ballToAxles: q('20 ft') };
  const change = (moves: Parameters<typeof loadChange>[0]['moves'], more: object = {}) =>
    loadChange({ ...trailer, ...more, moves });

  it('100 lb on the ball put all on it, over the axles all on them, half-way half', () => {
    for (const [ahead, tongue, axles] of [
      ['20 ft', 700, 5400],
      ['0 ft', 600, 5500],
      ['10 ft', 650, 5450],
      ['-4 ft', 580, 5520],
    ] as const) {
      const put = unwrap(change([{ what: 'water', weight: lb(100), to: q(ahead) }]));
      expect(put.tongue.value).toBeCloseTo(tongue, 9);
      expect(put.axles.value).toBeCloseTo(axles, 9);
      expect(put.trailer.value).toBeCloseTo(6100, 9);
      expect(put.tongueShare.value).toBeCloseTo((100 * tongue) / 6100, 9);
    }
  });

  it('taken out is put in, backwards; moved adds nothing; several add up', () => {
    const out = unwrap(change([{ what: 'tools', weight: lb(100), from: q('10 ft') }]));
    expect([out.tongue.value, out.axles.value, out.trailer.value]).toEqual([550, 5350, 5900]);
    const moved = unwrap(
      change([
        { what: 'tools', weight: lb(100), from: q('10 ft'), to: q('-4 ft') },
        { what: 'chairs', weight: lb(40), to: q('0 ft') },
      ]),
    );
    expect(moved.changes.map(({ what, tongue, axles }) => [what, tongue.value, axles.value])).toEqual([
      ['tools', -70, 70],
      ['chairs', 0, 40],
    ]);
    expect(moved.tongue.value).toBeCloseTo(530, 9);
    expect(moved.axles.value).toBeCloseTo(5510, 9);
  });

  it('10 and 15 % on the tongue are within; under and over are cautioned (most handbooks; common practice)', () => {
    // Added over the axles or on the ball: 600 of 6,000 is 10 %; 600 + 353 of 6,353 is over 15 %.
    const last = 'A computed load is no weighing: confirm it on a scale.';
    expect(unwrap(change([{ what: 'nothing new', weight: lb(1), from: q('0 ft'), to: q('0 ft') }])).cautions).toEqual([
      last,
    ]);
    expect(unwrap(change([{ what: 'rack', weight: lb(10), to: q('0 ft') }])).cautions.join()).toContain(
      'Light tongue, 9.9 %',
    );
    const heavy = (pounds: number) =>
      unwrap(change([{ what: 'box', weight: lb(pounds), to: q('20 ft') }], { tongue: lb(750), axles: lb(4250) }))
        .cautions;
    expect(heavy(1).join()).toContain('Heavy tongue');
    expect(
      unwrap(
        change([{ what: 'same', weight: lb(1), from: q('0 ft'), to: q('0 ft') }], { tongue: lb(900), axles: lb(5100) }),
      ).cautions,
    ).toEqual([last]);
  });

  it('holds tongue, axles and trailer against their ratings', () => {
    const ratings = { tongue: rated(700), trailerAxles: rated(5500), trailer: rated(6000) };
    const { limits, limitedBy, cautions } = unwrap(
      change([{ what: 'water', weight: lb(100), to: q('10 ft') }], { ratings }),
    );
    const seen = Object.fromEntries(limits.map((limit) => [limit.what, [limit.load.value, limit.margin.value]]));
    expect(seen).toEqual({ tongue: [650, 50], 'trailer axles': [5450, 50], trailer: [6100, -100] });
    expect(limitedBy).toBe('trailer');
    expect(cautions.join()).toContain('Over: trailer by 100 lb');
    expect(refused(change([], { ratings: { trailer: rated(0) } }))).toBe('loads.rating at ratings.trailer');
  });

  it('refuses what cannot be', () => {
    const water = { what: 'water', weight: lb(100), to: q('10 ft') };
    expect(refused(change([water, { what: 'air', weight: lb(0), to: q('1 ft') }]))).toBe('loads.move at moves.1');
    expect(refused(change([{ what: 'lost', weight: lb(10) }]))).toBe('loads.move at moves.0');
    expect(refused(change([water], { ballToAxles: q('0 ft') }))).toBe('loads.geometry at ballToAxles');
    expect(refused(change([water], { axles: lb(0) }))).toBe('loads.geometry at axles');
    const takenOut = (pounds: number) => change([{ what: 'all', weight: lb(pounds), from: q('0 ft') }]);
    // As much on the ball as on the axles still stands.
    expect(takenOut(4800).ok).toBe(true);
    expect(refused(takenOut(4801))).toBe('loads.tongue-impossible at moves');
    expect(refused(change([{ what: 'all', weight: lb(5400), from: q('0 ft') }], { tongue: lb(-100) }))).toBe(
      'loads.tongue-impossible at moves',
    );
  });
});

describe('the hitch’s chain of ratings', () => {
  const parts = [{ what: 'ball', gross: lb(6000), tongue: lb(700), origin: 'its stamp' }];
  const base = { trailer: lb(6000), tongue: lb(700), parts, chain: { breaking: lb(6000) } };
  const chainOf = (change: object = {}) => unwrap(hitchChain({ ...base, ...change }));

  it('a part and a chain of just the trailer’s weight hold; a pound less does not', () => {
    expect(chainOf()).toMatchObject({ holds: true, class: 4, chainEach: { holds: true, needed: lb(6000) } });
    expect(chainOf({ trailer: lb(6001), chain: { breaking: lb(7000) } })).toMatchObject({
      holds: false,
      limitedBy: 'ball, gross',
    });
    expect(chainOf({ tongue: lb(701) })).toMatchObject({ holds: false, limitedBy: 'ball, tongue' });
    expect(chainOf({ tongue: lb(701) }).cautions[0]).toMatch(/^Over: ball, tongue by 1 lb/);
    const weak = chainOf({ chain: { breaking: lb(5999) } });
    expect(weak).toMatchObject({ holds: false, limitedBy: 'the safety chains', chainEach: { holds: false } });
    expect(weak.cautions.join()).toMatch(/Each chain must break no lower than 6,000 lb.*5,999 lb/);
    expect(chainOf().cautions).toHaveLength(2);
    expect(chainOf().cautions.join()).toMatch(/GVWR.*cross under the tongue/);
  });

  it('four times the working load, and says so; unrated chains are unproven', () => {
    const working = chainOf({ chain: { workingLoad: lb(1500) } });
    expect(working).toMatchObject({ holds: true, chainEach: { breaking: lb(6000) } });
    expect(working.cautions.join()).toContain('four times the working load');
    const both = chainOf({ chain: { breaking: lb(7000), workingLoad: lb(1500) } });
    // Of two figures the weaker counts.
    expect(both.chainEach!.breaking).toEqual(lb(6000));
    expect(chainOf({ chain: { breaking: lb(7000) } }).cautions.join()).not.toContain('four times');
    for (const chain of [undefined, {}]) {
      const none = chainOf({ chain });
      expect(none).toMatchObject({ holds: false, chainEach: null });
      expect(none.cautions.join()).toContain('not rated: unproven');
    }
  });

  it('the tightest link comes first, whatever the order of the parts', () => {
    const more = [
      { what: 'coupler', gross: lb(7000), origin: 'a' },
      ...parts,
      { what: 'receiver', tongue: lb(1000), origin: 'b' },
    ];
    expect(chainOf({ trailer: lb(5000), parts: more }).limits.map((limit) => limit.what)).toEqual([
      'ball, tongue',
      'ball, gross',
      'coupler, gross',
      'receiver, tongue',
    ]);
    // A rating of nothing beside a real one is no rating.
    const partly = [{ what: 'ball', gross: lb(6000), tongue: lb(0), origin: 'its stamp' }];
    expect(chainOf({ parts: partly }).limits.map((limit) => limit.what)).toEqual(['ball, gross']);
    expect(
      chainOf({ parts: [{ what: 'ball', gross: lb(0), tongue: lb(700), origin: 'x' }] }).limits.map(
        (limit) => limit.what,
      ),
    ).toEqual(['ball, tongue']);
  });

  it('refuses no parts, a part without a rating, and a tongue that cannot be', () => {
    expect(refused(hitchChain({ ...base, parts: [] }))).toBe('loads.part-unrated at parts');
    expect(JSON.stringify(hitchChain({ ...base, parts: [] }))).toContain('No part was given');
    const blank = [...parts, { what: 'coupler', gross: lb(0), origin: 'worn off' }];
    expect(refused(hitchChain({ ...base, parts: blank }))).toBe('loads.part-unrated at parts.1');
    expect(JSON.stringify(hitchChain({ ...base, parts: blank }))).toContain('coupler carries no rating');
    for (const [trailer, tongue] of [
      [0, 100],
      [6000, 0],
      [6000, 6000],
    ])
      expect(refused(hitchChain({ ...base, trailer: lb(trailer!), tongue: lb(tongue!) }))).toBe(
        'loads.tongue-impossible at tongue',
      );
  });

  it('over 10,000 lb is outside the classes of SAE J684', () => {
    const big = [{ what: 'ball', gross: lb(12_000), origin: 'its stamp' }];
    const over = chainOf({ trailer: lb(10_001), parts: big, chain: { breaking: lb(12_000) } });
    expect(over.class).toBeNull();
    expect(over.cautions.join()).toContain('outside SAE J684');
    expect(hitchClass(quantity(10_000 * 0.45359237, 'kg'))).toBe(4);
  });

  it('class 3 and 4: no tongue listed without weight distribution, 15 % with it; class 4 tests in multiples (COMAR)', () => {
    expect(tongueDesignMax(lb(5000), true)!.value).toBeCloseTo(750, 9);
    expect(tongueDesignMax(lb(5000), false)).toBeNull();
    expect(tongueDesignMax(lb(12_000), true)).toBeNull();
    expect(tongueDesignMax(lb(12_000), false)).toBeNull();
    expect(tongueDesignMax(lb(2000), false)).toEqual(lb(200));
    const three = couplingTestLoads(lb(4500))!;
    expect([three.verticalUp, three.verticalDown]).toEqual([lb(7000), lb(7000)]);
  });

  it('reads a ball’s size as it is written', () => {
    for (const [ball, shank] of [
      ['2-5/16', '1-1/4'],
      ['2 5/16 in.', '1 1/4 in'],
      [' 2-5/16in', '1-1/4 '],
    ])
      expect(ballCapacityTypical(ball!, shank!)).toEqual(lb(10_000));
    expect(ballCapacityTypical('2', '1')).toEqual(lb(6000));
    expect(ballCapacityTypical('2-5/16', '3/4')).toBeNull();
  });
});

describe('a slope', () => {
  it('pulls by its sine, up and down; 40 % is the steepest asked', () => {
    // The sine of a 40 % slope is 0.4/√1.16 = 0.371391.
    const at = (weight: string, grade: string) => gradeForce({ weight: q(weight), grade: q(grade) });
    expect(unwrap(at('10,000 lb', '40 %')).force.value).toBeCloseTo(3713.91, 2);
    expect(unwrap(at('10,000 lb', '40 %')).force.unit).toBe('lbf');
    expect(unwrap(at('10,000 lb', '-40 %')).force.value).toBeCloseTo(-3713.91, 2);
    expect(refused(at('10,000 lb', '41 %'))).toBe('loads.grade at grade');
    expect(refused(at('10,000 lb', '-41 %'))).toBe('loads.grade at grade');
    expect(refused(at('0 lb', '6 %'))).toBe('loads.grade at grade');
    // 1,000 kg · 9.80665 m/s² · 0.371391.
    const metric = unwrap(at('1,000 kg', '40 %'));
    expect(metric.force.unit).toBe('N');
    expect(metric.force.value).toBeCloseTo(3642.1, 1);
    expect(metric.cautions.join()).toContain('low gear');
    expect(valueIn(unwrap(at('5,000 lb', '0 %')).force, 'lbf')).toBe(0);
  });
});
