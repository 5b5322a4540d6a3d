/** Weights against published tickets, handbooks, the standard's classes and an owner-forum derivation. */

import { describe, expect, it } from 'vitest';
import {
  ballCapacityTypical,
  couplingTestLoads,
  gradeForce,
  heightRestored,
  hitchChain,
  hitchClass,
  hitchStatics,
  payloadLeft,
  relabelThreshold,
  tongueDesignMax,
  weighSingleAxle,
  weighThreePass,
  weighTongueScale,
} from '../../src/loads/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../../src/quantity/index.ts';
import { table } from '../support/table.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const lb = (value: number) => quantity(value, 'lb');

describe('published weighings', () => {
  it('a newspaper’s example: 5,000 lb alone, 5,600 coupled, tongue 600', () => {
    const weighed = unwrap(
      weighSingleAxle({
        solo: { total: lb(5000), rear: lb(2200) },
        hitched: { total: lb(5600), rear: lb(3000), axles: [lb(4400)] },
      }),
    );
    expect(weighed.tongue.value).toBeCloseTo(600, 9);
  });

  it('an owner’s tickets: tongue 644, trailer axles 7,660, trailer 8,304, 7.8 %; front 3,180 and rear 3,560 make 6,740, with the axles 14,400', () => {
    const weighed = unwrap(weighTongueScale({ reading: lb(644), axles: lb(7660) }));
    expect(weighed.trailer.value).toBeCloseTo(8304, 9);
    expect(weighed.tongueShare.value).toBeCloseTo(7.8, 1);
    expect(3180 + 3560 + 7660).toBe(14_400);
  });

  it('one platform: front is total less rear (a caravan maker’s worksheet)', () => {
    const weighed = unwrap(
      weighSingleAxle({
        solo: { total: lb(6000), rear: lb(2800) },
        hitched: { total: lb(6800), rear: lb(3960), axles: [lb(5600)] },
      }),
    );
    expect(weighed.front.value).toBeCloseTo(2840, 9);
  });

  it('payload: 1,400 lb less five people of 150 lb leaves 650 (a tow vehicle’s handbook)', () => {
    expect(payloadLeft({ payload: lb(1400), people: 5 })).toEqual(lb(650));
  });
});

describe('hitch statics against an owner-forum derivation', () => {
  it('2,000 lb at the ends of 30 in bars move 300 lb to axles 200 in behind the ball', () => {
    const statics = unwrap(
      hitchStatics({
        wheelbase: q('130 in'),
        overhang: q('65 in'),
        ballToAxles: q('200 in'),
        tongue: lb(1),
        moment: q('60,000 lb-in'),
      }),
    );
    expect(statics.withMoment!.axles.value).toBeCloseTo(300, 9);
    // Front and rear are our own arithmetic: +611.5 and −911.5 lb.
    expect(statics.withMoment!.front.value - statics.front.value).toBeCloseTo(611.5, 1);
    expect(statics.withMoment!.rear.value - statics.rear.value).toBeCloseTo(-911.5, 1);
  });

  it('half-way back by height is half restored (truck makers’ handbooks of 2012 and 2014)', () => {
    expect(
      unwrap(heightRestored({ solo: q('38 in'), slack: q('39 in'), set: q('38.5 in') })).frontRestored.value,
    ).toBeCloseTo(50, 9);
  });
});

describe('hitch classes (Maryland COMAR 11.13.08, as SAE J684), balls (a summary of SAE J684)', () => {
  const rows = table('hitch-classes');
  const printed = (item: string, what: string) =>
    rows.find((row) => row.item === item && row.quantity!.startsWith(what))!.value!;

  it('class limits, at their edges', () => {
    for (const hitch of [1, 2, 3, 4] as const) {
      const limit = Number(printed(String(hitch), 'max gross trailer weight'));
      expect(hitchClass(lb(limit))).toBe(hitch);
      expect(hitchClass(lb(limit + 1))).toBe(hitch === 4 ? null : hitch + 1);
    }
  });

  it('test loads of couplings', () => {
    for (const [hitch, weight] of [
      [1, 1500],
      [2, 3000],
      [3, 4500],
    ] as const) {
      const loads = couplingTestLoads(lb(weight))!;
      expect(loads.longitudinal).toEqual(lb(Number(printed(String(hitch), 'coupling longitudinal'))));
      expect(loads.transverse).toEqual(lb(Number(printed(String(hitch), 'coupling transverse'))));
      expect(loads.verticalUp).toEqual(lb(Number(printed(String(hitch), 'coupling vertical'))));
    }
    // Class 4: 3.0, 1.0, 1.3 and 1.4 times the maximum gross trailer weight.
    const four = couplingTestLoads(lb(7600))!;
    expect(
      [four.longitudinal, four.transverse, four.verticalUp, four.verticalDown].map((load) => Math.round(load.value)),
    ).toEqual([22_800, 7600, 9880, 10_640]);
    expect(couplingTestLoads(lb(12_000))).toBeNull();
  });

  it('tongue weights for design', () => {
    expect(tongueDesignMax(lb(1500), false)).toEqual(
      lb(Number(printed('1', 'max recommended static tongue load, weight-carrying'))),
    );
    expect(tongueDesignMax(lb(1500), true)).toEqual(
      lb(Number(printed('1', 'max recommended static tongue load, weight-distributing'))),
    );
    expect(tongueDesignMax(lb(3500), false)).toEqual(lb(300));
    expect(tongueDesignMax(lb(3500), true)).toEqual(lb(500));
    expect(tongueDesignMax(lb(6000), true)?.value).toBeCloseTo(900, 9);
    expect(tongueDesignMax(lb(6000), false)).toBeNull();
  });

  it('balls', () => {
    for (const row of rows.filter((one) => one.kind === 'ball')) {
      const [ball, shank] = row.item!.replace(' shank', '').replace(' ball', '').split(', ');
      expect(ballCapacityTypical(ball!, shank!)).toEqual(lb(Number(row.value)));
    }
  });

  it('chains: each breaks no lower than the gross weight (49 CFR 393.70, New Hampshire RSA 266:63)', () => {
    const chain = (workingLoad: number) =>
      unwrap(
        hitchChain({
          trailer: lb(7600),
          tongue: lb(900),
          parts: [{ what: 'ball', gross: lb(10_000), origin: 'stamp' }],
          chain: { workingLoad: lb(workingLoad) },
        }),
      ).chainEach!;
    expect(chain(2600)).toMatchObject({ holds: true, breaking: lb(10_400) });
    expect(chain(1300)).toMatchObject({ holds: false, breaking: lb(5200) });
  });
});

describe('labels (72 FR 68442): the lesser of 1.5 % of GVWR or 100 lb', () => {
  it.each([
    [5000, 75],
    [6000, 90],
    [6666.7, 100],
    [7600, 100],
  ])('%d lb: %d lb', (gvwr, threshold) => expect(relabelThreshold(lb(gvwr)).value).toBeCloseTo(threshold, 2));
});

describe('our own arithmetic, not an outside check: loads', () => {
  it('a constructed ticket', () => {
    const weighed = unwrap(
      weighThreePass({
        solo: { front: lb(3200), rear: lb(2800) },
        hitchedSlack: { front: lb(2840), rear: lb(3960), axles: lb(5600) },
        hitchedSet: { front: lb(3020), rear: lb(3680), axles: lb(5700) },
      }),
    );
    expect(weighed).toMatchObject({
      tongue: lb(800),
      tongueShare: quantity(12.5, '%'),
      trailer: lb(6400),
      combined: lb(12_400),
      frontRestored: quantity(50, '%'),
      toAxles: lb(100),
    });
  });

  it('moments of the same rig', () => {
    const rig = { wheelbase: q('145 in'), overhang: q('65 in'), ballToAxles: q('210 in'), tongue: lb(800) };
    const statics = unwrap(hitchStatics({ ...rig, restore: q('50 %') }));
    expect(statics.momentForFullRestore.value * 12).toBeCloseTo(39_709, 0);
    expect(statics.withMoment!.moment.value * 12).toBeCloseTo(19_855, 0);
  });

  it('heights and grades', () => {
    expect(
      unwrap(heightRestored({ solo: q('38 in'), slack: q('39 in'), set: q('38.25 in') })).frontRestored.value,
    ).toBeCloseTo(75, 9);
    expect(
      unwrap(heightRestored({ solo: q('38 in'), slack: q('39 in'), set: q('37.75 in') })).frontRestored.value,
    ).toBeCloseTo(125, 9);
    expect(unwrap(gradeForce({ weight: lb(12_400), grade: q('6 %') })).force.value).toBeCloseTo(742.7, 1);
    expect(unwrap(gradeForce({ weight: lb(12_400), grade: q('12 %') })).force.value).toBeCloseTo(1477.4, 1);
  });
});
