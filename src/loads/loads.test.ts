import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { convert, parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import {
  ballCapacityTypical,
  gradeForce,
  heightRestored,
  hitchChain,
  hitchStatics,
  loadChange,
  payloadLeft,
  relabelThreshold,
  towVehicle,
  weighSingleAxle,
  weighThreePass,
  weighTongueScale,
} from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const lb = (value: number) => quantity(value, 'lb');
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

const passes = {
  solo: { front: lb(3200), rear: lb(2800) },
  hitchedSlack: { front: lb(2840), rear: lb(3960), axles: lb(5600) },
  hitchedSet: { front: lb(3020), rear: lb(3680), axles: lb(5700) },
};

describe('weighThreePass', () => {
  it('carries the scale step into the doubt', () => {
    const { uncertainty, frontRestored } = unwrap(weighThreePass(passes));
    expect(uncertainty.tongue).toEqual({ low: lb(760), high: lb(840) });
    expect(uncertainty.tongueShare.low.value).toBeLessThan(12.5);
    expect(uncertainty.tongueShare.high.value).toBeGreaterThan(12.5);
    expect(frontRestored?.value).toBe(50);
    expect(uncertainty.frontRestored!.low.value).toBeLessThan(50);
  });

  it('holds the rear axle to its rating before the bars are set, and names the tightest', () => {
    const ratings = {
      rearAxle: { rating: lb(3900), origin: 'door-jamb label' },
      trailer: { rating: lb(7600), origin: 'certification label' },
    };
    const weighed = unwrap(weighThreePass({ ...passes, ratings }));
    expect(weighed.limitedBy).toBe('rear axle');
    expect(weighed.limits[0]).toMatchObject({ margin: lb(-60), origin: 'door-jamb label' });
    expect(weighed.cautions[0]).toContain('Over: rear axle by 60 lb');
  });

  it('refuses tickets that cannot be', () => {
    expect(codeOf(weighThreePass({ ...passes, hitchedSet: { ...passes.hitchedSet, axles: lb(5800) } }))).toBe(
      'loads.passes-differ',
    );
    expect(codeOf(weighThreePass({ ...passes, solo: { ...passes.solo, total: lb(6100) } }))).toBe('loads.ticket-sum');
    expect(codeOf(weighThreePass({ ...passes, solo: { ...passes.solo, total: lb(6020) } }))).toBe('ok');
    expect(codeOf(weighThreePass({ ...passes, solo: { front: lb(320), rear: lb(280) } }))).toBe(
      'loads.tongue-impossible',
    );
    expect(codeOf(weighThreePass({ ...passes, solo: { front: lb(0), rear: lb(2800) } }))).toBe('loads.reading');
  });

  it('flags a light tongue, an over-set hitch and a restoration the scale cannot tell', () => {
    const light = { ...passes, solo: { front: lb(3200), rear: lb(3100) } };
    expect(unwrap(weighThreePass(light)).cautions.join()).toContain('Light tongue, 8.1 %');
    const hard = { ...passes, hitchedSet: { front: lb(3240), rear: lb(3300), axles: lb(5860) } };
    expect(unwrap(weighThreePass(hard)).cautions.join()).toContain('too hard');
    const unknown = { ...passes, solo: { front: lb(2850), rear: lb(3150) } };
    expect(unwrap(weighThreePass(unknown)).frontRestored).toBeNull();
  });

  it('gives the same answer in kilograms', () => {
    const kg = (pass: Record<string, Quantity>) =>
      Object.fromEntries(Object.entries(pass).map(([k, v]) => [k, convert(v, 'kg')]));
    const metric = unwrap(
      weighThreePass({
        solo: kg(passes.solo),
        hitchedSlack: kg(passes.hitchedSlack),
        hitchedSet: kg(passes.hitchedSet),
      } as never),
    );
    expect(metric.tongue.unit).toBe('kg');
    expect(valueIn(metric.tongue, 'lb')).toBeCloseTo(800, 8);
    expect(metric.tongueShare.value).toBeCloseTo(12.5, 10);
  });
});

describe('other scales', () => {
  it('takes any two of front, rear and total', () => {
    const full = unwrap(
      weighSingleAxle({ solo: passes.solo, hitched: { front: lb(2840), rear: lb(3960), axles: [lb(2780), lb(2820)] } }),
    );
    const rest = unwrap(
      weighSingleAxle({
        solo: { total: lb(6000), rear: lb(2800) },
        hitched: { total: lb(6800), rear: lb(3960), axles: [lb(2780), lb(2820)] },
      }),
    );
    expect(full.tongue).toEqual(lb(800));
    expect(rest).toMatchObject({ tongue: lb(800), front: lb(2840), trailer: lb(6400) });
    expect(
      codeOf(
        weighSingleAxle({ solo: { rear: lb(2800) }, hitched: { total: lb(6800), rear: lb(3960), axles: [lb(5600)] } }),
      ),
    ).toBe('loads.reading-missing');
    expect(
      codeOf(
        weighSingleAxle({
          solo: { total: lb(2000), rear: lb(2800) },
          hitched: { total: lb(6800), rear: lb(3960), axles: [lb(5600)] },
        }),
      ),
    ).toBe('loads.ticket-sum');
  });

  it('multiplies a small scale by its lever', () => {
    const weighed = unwrap(
      weighTongueScale({ reading: lb(260), axles: lb(5600), lever: { toTongue: q('12 in'), toScale: q('36 in') } }),
    );
    expect(weighed.tongue.value).toBeCloseTo(780, 9);
    expect(codeOf(weighTongueScale({ reading: lb(6000), axles: lb(5600) }))).toBe('loads.tongue-impossible');
    expect(
      codeOf(
        weighTongueScale({ reading: lb(260), axles: lb(5600), lever: { toTongue: q('36 in'), toScale: q('12 in') } }),
      ),
    ).toBe('loads.lever');
  });
});

describe('hitch statics', () => {
  const geometry = { wheelbase: q('145 in'), overhang: q('65 in'), ballToAxles: q('210 in') };

  it('moves no weight in or out of the rig, and full restoration restores', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50, max: 2000, noNaN: true }),
        fc.double({ min: 0, max: 150, noNaN: true }),
        fc.integer({ min: 90, max: 180 }),
        fc.integer({ min: 30, max: 90 }),
        (tongue, restore, wheelbase, overhang) => {
          const shape = {
            wheelbase: quantity(wheelbase, 'in'),
            overhang: quantity(overhang, 'in'),
            ballToAxles: q('5 m'),
          };
          const statics = unwrap(hitchStatics({ ...shape, tongue: lb(tongue), restore: quantity(restore, '%') }));
          expect(statics.front.value + statics.rear.value).toBeCloseTo(tongue, 6);
          const { front, rear, axles } = statics.withMoment!;
          expect(front.value + rear.value + axles.value).toBeCloseTo(tongue, 6);
          expect(front.value).toBeCloseTo(statics.front.value * (1 - restore / 100), 6);
        },
      ),
    );
  });

  it('answers in the units it was asked in, and refuses a tongue over 100 %', () => {
    expect(unwrap(hitchStatics({ ...geometry, tongue: q('363 kg') })).momentForFullRestore.unit).toBe('N-m');
    expect(codeOf(hitchStatics({ ...geometry, tongue: lb(800), trailer: lb(700) }))).toBe('loads.tongue-impossible');
    expect(codeOf(hitchStatics({ ...geometry, tongue: lb(800), restore: q('50 %'), moment: q('100 lb-ft') }))).toBe(
      'loads.restore',
    );
    expect(codeOf(hitchStatics({ ...geometry, wheelbase: q('0 in'), tongue: lb(800) }))).toBe('loads.geometry');
    expect(unwrap(hitchStatics({ ...geometry, tongue: lb(800), restore: q('120 %') })).cautions).toHaveLength(2);
  });

  it('reads restoration from fender heights', () => {
    expect(
      unwrap(heightRestored({ solo: q('38 in'), slack: q('39 in'), set: q('38.25 in') })).frontRestored.value,
    ).toBeCloseTo(75, 9);
    expect(unwrap(heightRestored({ solo: q('38 in'), slack: q('39 in'), set: q('37.75 in') })).cautions).toHaveLength(
      1,
    );
    expect(codeOf(heightRestored({ solo: q('39 in'), slack: q('38 in'), set: q('38 in') }))).toBe('loads.heights');
  });

  it('loads the tow vehicle before and after', () => {
    const loads = unwrap(
      towVehicle({
        ...geometry,
        solo: passes.solo,
        tongue: lb(800),
        restore: q('50 %'),
        aboard: [{ what: 'firewood', weight: lb(100), ahead: q('0 in') }],
      }),
    );
    expect(loads.before.rear.value).toBeCloseTo(2900, 9);
    expect(loads.after.front.value).toBeCloseTo(3200 - (800 * 65) / 145 / 2, 9);
    expect(loads.slack.total.value).toBeCloseTo(6900, 9);
    expect(codeOf(towVehicle({ ...geometry, solo: passes.solo, tongue: lb(8000), restore: q('0 %') }))).toBe(
      'loads.front-lifts',
    );
    expect(payloadLeft({ payload: lb(1400), people: 5 })).toEqual(lb(650));
  });
});

describe('loadChange', () => {
  const trailer = { tongue: lb(800), axles: lb(5600), ballToAxles: q('210 in') };

  it('moves water, adds a rack behind', () => {
    const moved = unwrap(
      loadChange({
        ...trailer,
        moves: [{ what: '60 lb of water', weight: lb(60), from: q('100 in'), to: q('-80 in') }],
      }),
    );
    expect(moved.tongue.value).toBeCloseTo(800 - (60 * 180) / 210, 9);
    expect(moved.trailer.value).toBeCloseTo(6400, 9);
    const rack = unwrap(
      loadChange({ ...trailer, moves: [{ what: 'bicycle rack', weight: lb(150), to: q('-180 in') }] }),
    );
    expect(rack.tongue.value).toBeLessThan(800);
    expect(rack.axles.value).toBeGreaterThan(5750);
    expect(codeOf(loadChange({ ...trailer, moves: [{ what: 'nothing', weight: lb(150) }] }))).toBe('loads.move');
    expect(codeOf(loadChange({ ...trailer, moves: [{ what: 'all', weight: lb(9000), from: q('0 in') }] }))).toBe(
      'loads.tongue-impossible',
    );
  });

  it('undoes itself', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 300, noNaN: true }),
        fc.integer({ min: -200, max: 200 }),
        (weight, place) => {
          const thing = { what: 'thing', weight: lb(weight) };
          const at = quantity(place, 'in');
          const both = unwrap(
            loadChange({
              ...trailer,
              moves: [
                { ...thing, to: at },
                { ...thing, from: at },
              ],
            }),
          );
          expect(both.tongue.value).toBeCloseTo(800, 8);
          expect(both.axles.value).toBeCloseTo(5600, 8);
        },
      ),
    );
  });

  it('knows when a label must be corrected', () => {
    expect(relabelThreshold(lb(5000)).value).toBeCloseTo(75, 9);
    expect(relabelThreshold(lb(7600)).value).toBeCloseTo(100, 9);
  });
});

describe('hitchChain', () => {
  const parts = [
    { what: 'ball', gross: lb(8000), origin: 'stamped on the ball' },
    { what: 'receiver', gross: lb(7000), tongue: lb(700), origin: 'receiver label' },
  ];

  it('names the weakest link with its origin; unrated is not strong', () => {
    const chain = unwrap(hitchChain({ trailer: lb(6400), tongue: lb(680), parts, chain: { breaking: lb(9000) } }));
    expect(chain).toMatchObject({ class: 4, holds: true, limitedBy: 'receiver, tongue' });
    expect(unwrap(hitchChain({ trailer: lb(6400), tongue: lb(800), parts, chain: { breaking: lb(9000) } })).holds).toBe(
      false,
    );
    expect(unwrap(hitchChain({ trailer: lb(6400), tongue: lb(680), parts })).holds).toBe(false);
    expect(
      unwrap(hitchChain({ trailer: lb(6400), tongue: lb(680), parts, chain: { workingLoad: lb(1300) } })).limitedBy,
    ).toBe('the safety chains');
    expect(
      codeOf(hitchChain({ trailer: lb(6400), tongue: lb(680), parts: [{ what: 'coupler', origin: 'unreadable' }] })),
    ).toBe('loads.part-unrated');
    expect(codeOf(hitchChain({ trailer: lb(6400), tongue: lb(6800), parts }))).toBe('loads.tongue-impossible');
    expect(ballCapacityTypical('2-5/16 in', '1-1/4 in')).toEqual(lb(10_000));
    expect(ballCapacityTypical('3', '1')).toBeNull();
  });
});

describe('gradeForce', () => {
  it('is the sine, not the grade', () => {
    expect(unwrap(gradeForce({ weight: lb(12_400), grade: q('6 %') })).force.value).toBeCloseTo(742.66, 1);
    expect(codeOf(gradeForce({ weight: lb(12_400), grade: q('60 %') }))).toBe('loads.grade');
  });
});
