/** Weighing by tickets made by hand: what adds up, what a scale's step leaves open, and at which pound each judgment turns. */

import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { weighSingleAxle, weighThreePass, weighTongueScale } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const lb = (value: number) => quantity(value, 'lb');
const refused = (result: Result<unknown>) => {
  if (result.ok) throw new Error(`answered: ${JSON.stringify(result.value)}`);
  const { code, where, what, expected } = result.problems[0]!;
  expect([what, expected].every((text) => typeof text === 'string' && text.length > 5)).toBe(true);
  return `${code} at ${where}`;
};

/** A rig on three axles' pads; what the tongue takes off the front comes back by `restored`. */
const tickets = (rig: { tongue: number; axles: number; off: number; back: number; toAxles: number }) => ({
  solo: { front: lb(3200), rear: lb(2800) },
  hitchedSlack: {
    front: lb(3200 - rig.off),
    rear: lb(2800 + rig.tongue + rig.off),
    axles: lb(rig.axles),
  },
  hitchedSet: {
    front: lb(3200 - rig.off + rig.back),
    rear: lb(2800 + rig.tongue + rig.off - rig.back - rig.toAxles),
    axles: lb(rig.axles + rig.toAxles),
  },
});
const rig = { tongue: 800, axles: 5600, off: 360, back: 180, toAxles: 100 };
const of = (change: Partial<typeof rig> = {}) => unwrap(weighThreePass(tickets({ ...rig, ...change })));

describe('three passes', () => {
  it('tongue, trailer, whole rig and what went to the axles are sums and differences', () => {
    // Tongue 6,800 − 6,000; share 800/6,400; rig 2,840 + 3,960 + 5,600; half of 360 lb is back.
    expect(of()).toMatchObject({
      tongue: lb(800),
      tongueShare: quantity(12.5, '%'),
      trailer: lb(6400),
      combined: lb(12_400),
      frontRestored: quantity(50, '%'),
      toAxles: lb(100),
    });
    expect(of().cautions).toEqual([]);
    expect(of().limitedBy).toBe('the scale’s step');
    expect(of().assumed).toHaveLength(1);
    expect(unwrap(weighThreePass({ ...tickets(rig), step: lb(20) })).assumed).toEqual([]);
  });

  it('every reading may be off by half a step: four make the tongue, two what went to the axles, three the restoration', () => {
    const { uncertainty } = of();
    // ±10 lb each. Share: 760/(760 + 5,610) to 840/(840 + 5,590). Restored: (180 − 20)/(360 + 20)… worst corners by hand below.
    expect(uncertainty.tongue).toEqual({ low: lb(760), high: lb(840) });
    expect(uncertainty.toAxles).toEqual({ low: lb(80), high: lb(120) });
    expect(uncertainty.tongueShare.low.value).toBeCloseTo((100 * 760) / (760 + 5610), 9);
    expect(uncertainty.tongueShare.high.value).toBeCloseTo((100 * 840) / (840 + 5590), 9);
    // First 3,210, slack 2,850, set 3,010: 160/360; first 3,190, slack 2,830, set 3,030: 200/360.
    expect(uncertainty.frontRestored!.low.value).toBeCloseTo((100 * 160) / 360, 9);
    expect(uncertainty.frontRestored!.high.value).toBeCloseTo((100 * 200) / 360, 9);
    // A scale of 10 lb leaves half the doubt.
    const finer = unwrap(weighThreePass({ ...tickets(rig), step: lb(10) })).uncertainty;
    expect(finer.tongue).toEqual({ low: lb(780), high: lb(820) });
  });

  it('10 and 15 % on the tongue are within; under and over are cautioned (most handbooks; common practice)', () => {
    // Of 6,000 lb: 600 is 10 %, 900 is 15 %; by ± 40 lb the scale leaves open which side of the band they are on.
    const cautions = (tongue: number) => of({ tongue, axles: 6000 - tongue }).cautions.join();
    expect(cautions(720)).toBe('');
    expect(cautions(600)).toMatch(/^The scale leaves open that the tongue is light, 9\.3 %/);
    expect(cautions(900)).toMatch(/^The scale leaves open that the tongue is heavy, 15\.6 %/);
    expect(cautions(580)).toMatch(/^Light tongue, 9\.6 %/);
    expect(cautions(920)).toMatch(/^Heavy tongue, 15\.4 %/);
  });

  it('a trailer that lifts the ball is not towed', () => {
    for (const tongue of [0, -100]) {
      const lifting = of({ tongue, off: -40, back: 0, toAxles: 0 });
      expect(lifting.cautions.join()).toContain('Do not tow');
      expect(lifting.cautions.join()).not.toContain('Light tongue');
    }
  });

  it('a tongue as heavy as the axles still stands; heavier does not, nor one that lifts half of them', () => {
    expect(of({ tongue: 5600 }).tongue).toEqual(lb(5600));
    expect(refused(weighThreePass(tickets({ ...rig, tongue: 5620 })))).toBe('loads.tongue-impossible at hitchedSlack');
    expect(of({ tongue: -1000, axles: 2000, off: 0, back: 0, toAxles: 0 }).tongue).toEqual(lb(-1000));
    expect(refused(weighThreePass(tickets({ tongue: -1020, axles: 2000, off: 0, back: 0, toAxles: 0 })))).toBe(
      'loads.tongue-impossible at hitchedSlack',
    );
  });

  it('the front axle one step over where it began is within the scale; more is set too hard', () => {
    expect(of({ back: 380, toAxles: 200 }).cautions).toEqual([]);
    expect(of({ back: 400, toAxles: 200 }).cautions.join()).toContain('too hard');
  });

  it('restoration is known only when more than a step came off the front', () => {
    expect(of({ off: 20, back: 0 }).frontRestored).toBeNull();
    expect(of({ off: 20, back: 0 }).uncertainty.frontRestored).toBeNull();
    expect(of({ off: 20, back: 0 }).cautions.join()).toContain('restoration is not known');
    expect(of({ off: 40, back: 20 }).frontRestored!.value).toBeCloseTo(50, 9);
    expect(of({ off: 40, back: 20 }).cautions).toEqual([]);
  });

  it('each rating is held against the worst of both coupled passes', () => {
    const rated = (rating: number) => ({ rating: lb(rating), origin: 'its label' });
    const ratings = {
      frontAxle: rated(3100),
      rearAxle: rated(4000),
      vehicle: rated(7000),
      trailerAxles: rated(7000),
      trailer: rated(7600),
      combined: rated(13_000),
      tongue: rated(1000),
    };
    const { limits, limitedBy } = unwrap(weighThreePass({ ...tickets(rig), ratings }));
    const loads = Object.fromEntries(limits.map((limit) => [limit.what, [limit.load.value, limit.margin.value]]));
    // Slack 2,840/3,960/5,600, set 3,020/3,680/5,700.
    expect(loads).toEqual({
      'front axle': [3020, 80],
      'rear axle': [3960, 40],
      'tow vehicle': [6800, 200],
      'trailer axles': [5700, 1300],
      trailer: [6400, 1200],
      combination: [12_400, 600],
      tongue: [800, 200],
    });
    const used = limits.map((limit) => limit.used.value);
    expect(used).toEqual([...used].sort((a, b) => b - a));
    expect(used[0]).toBeCloseTo((100 * 3960) / 4000, 9);
    expect(limitedBy).toBe('rear axle');
    // Where setting adds to an axle, the set pass counts.
    const harder = tickets({ ...rig, off: 40, back: 260, toAxles: 150 });
    const front = unwrap(weighThreePass({ ...harder, ratings })).limits.find((limit) => limit.what === 'front axle')!;
    expect(front).toMatchObject({ load: lb(3420), margin: lb(-320) });
  });

  it('a load of just its rating is not over; a pound more is, and names the label', () => {
    const at = (rating: number) =>
      unwrap(
        weighThreePass({
          ...tickets(rig),
          ratings: { trailer: { rating: lb(rating), origin: 'certification label' } },
        }),
      ).cautions;
    // Five readings of ± 10 lb make the trailer.
    expect(at(6451)).toEqual([]);
    expect(at(6400).join()).toMatch(/^trailer: 0 lb left, less than the scale can be wrong by \(50 lb\)/);
    expect(at(6399).join()).toMatch(/Over: trailer by 1 lb .*certification label.*Do not tow/);
    expect(refused(weighThreePass({ ...tickets(rig), ratings: { trailer: { rating: lb(0), origin: 'x' } } }))).toBe(
      'loads.rating at ratings.trailer',
    );
  });

  it('both coupled passes weigh the same rig, within half a step a reading', () => {
    const set = tickets(rig).hitchedSet;
    const off = (by: number) => weighThreePass({ ...tickets(rig), hitchedSet: { ...set, axles: lb(5700 + by) } });
    expect(off(60).ok).toBe(true);
    expect(off(-60).ok).toBe(true);
    expect(refused(off(61))).toBe('loads.passes-differ at hitchedSet');
    expect(refused(off(-61))).toBe('loads.passes-differ at hitchedSet');
  });

  it('a printed total agrees with its pieces, within half a step a figure', () => {
    const { solo, hitchedSlack, hitchedSet } = tickets(rig);
    const withTotal = (change: object) => weighThreePass({ ...tickets(rig), ...change });
    // Two pieces and a total: 30 lb. Three pieces and a total: 40 lb.
    expect(withTotal({ solo: { ...solo, total: lb(6030) } }).ok).toBe(true);
    expect(refused(withTotal({ solo: { ...solo, total: lb(6031) } }))).toBe('loads.ticket-sum at solo.total');
    expect(refused(withTotal({ solo: { ...solo, total: lb(5969) } }))).toBe('loads.ticket-sum at solo.total');
    expect(withTotal({ hitchedSlack: { ...hitchedSlack, total: lb(12_440) } }).ok).toBe(true);
    expect(refused(withTotal({ hitchedSlack: { ...hitchedSlack, total: lb(12_441) } }))).toBe(
      'loads.ticket-sum at hitchedSlack.total',
    );
    expect(refused(withTotal({ hitchedSet: { ...hitchedSet, total: lb(12_300) } }))).toBe(
      'loads.ticket-sum at hitchedSet.total',
    );
  });

  it('no pad reads nothing under a standing axle, and no scale has a step of nothing', () => {
    const at = (pass: 'solo' | 'hitchedSlack' | 'hitchedSet', axle: string) =>
      refused(weighThreePass({ ...tickets(rig), [pass]: { ...tickets(rig)[pass], [axle]: lb(0) } }));
    for (const [pass, axle] of [
      ['solo', 'front'],
      ['solo', 'rear'],
      ['hitchedSlack', 'front'],
      ['hitchedSlack', 'rear'],
      ['hitchedSlack', 'axles'],
      ['hitchedSet', 'front'],
      ['hitchedSet', 'rear'],
      ['hitchedSet', 'axles'],
    ] as const)
      expect(at(pass, axle)).toBe(`loads.reading at ${pass}.${axle}`);
    expect(refused(weighThreePass({ ...tickets(rig), step: lb(0) }))).toBe('loads.step at step');
  });
});

describe('one axle at a time', () => {
  const solo = { front: lb(3200), rear: lb(2800) };
  const hitched = { front: lb(2840), rear: lb(3960), axles: [lb(2780), lb(2820)] };

  it('adds the trailer’s axles, and carries the doubt of every reading', () => {
    const weighed = unwrap(weighSingleAxle({ solo, hitched }));
    expect(weighed).toMatchObject({
      tongue: lb(800),
      tongueShare: quantity(12.5, '%'),
      trailer: lb(6400),
      combined: lb(12_400),
      front: lb(2840),
      rear: lb(3960),
      axles: lb(5600),
    });
    // Four readings of ±10 lb make the tongue, two the axles.
    expect(weighed.uncertainty.tongue).toEqual({ low: lb(760), high: lb(840) });
    expect(weighed.uncertainty.tongueShare.low.value).toBeCloseTo((100 * 760) / (760 + 5620), 9);
    expect(weighed.uncertainty.tongueShare.high.value).toBeCloseTo((100 * 840) / (840 + 5580), 9);
    expect(weighed.assumed).toHaveLength(1);
    expect(unwrap(weighSingleAxle({ solo, hitched, step: lb(50) })).assumed).toEqual([]);
    expect(weighed.cautions.join()).toContain('level');
    expect(weighed.cautions.join()).toContain('slack');
  });

  it('what was not weighed alone is what is left of the total', () => {
    const least = unwrap(weighSingleAxle({ solo: { front: lb(3200), total: lb(6000) }, hitched }));
    expect(least.tongue).toEqual(lb(800));
    // The printed total counts, not the sum of its rounded pieces.
    const printed = unwrap(weighSingleAxle({ solo: { ...solo, total: lb(6020) }, hitched }));
    expect(printed.tongue).toEqual(lb(780));
    expect(refused(weighSingleAxle({ solo: { ...solo, total: lb(6040) }, hitched }))).toBe(
      'loads.ticket-sum at solo.total',
    );
    expect(refused(weighSingleAxle({ solo: { front: lb(3200), total: lb(3200) }, hitched }))).toBe(
      'loads.ticket-sum at solo.total',
    );
    expect(refused(weighSingleAxle({ solo: { total: lb(6000) }, hitched }))).toBe('loads.reading-missing at solo');
    expect(refused(weighSingleAxle({ solo: { front: lb(3200) }, hitched }))).toBe('loads.reading-missing at solo');
    expect(refused(weighSingleAxle({ solo, hitched: { ...hitched, rear: undefined } }))).toBe(
      'loads.reading-missing at hitched',
    );
    expect(refused(weighSingleAxle({ solo: { ...solo, front: lb(-3200) }, hitched }))).toBe(
      'loads.reading at solo.front',
    );
    expect(refused(weighSingleAxle({ solo, hitched: { ...hitched, axles: [lb(2780), lb(0)] } }))).toBe(
      'loads.reading at hitched.axles.1',
    );
  });

  it('refuses a trailer that cannot stand', () => {
    const behind = (tongue: number, axles: readonly Quantity[]) =>
      weighSingleAxle({ solo, hitched: { front: lb(2840), rear: lb(3160 + tongue), axles } });
    expect(behind(500, [lb(500)]).ok).toBe(true);
    expect(refused(behind(520, [lb(500)]))).toBe('loads.tongue-impossible at hitched');
    expect(behind(-250, [lb(500)]).ok).toBe(true);
    expect(refused(behind(-260, [lb(500)]))).toBe('loads.tongue-impossible at hitched');
    expect(refused(behind(800, []))).toBe('loads.tongue-impossible at hitched');
  });
});

describe('a small scale under a lever', () => {
  const lever = (toTongue: string, toScale: string) => ({ toTongue: q(toTongue), toScale: q(toScale) });

  it('the tongue is the reading times the ratio of the arms: 200 lb at 4 ft, tongue at 1 ft, is 800 lb', () => {
    const weighed = unwrap(weighTongueScale({ reading: lb(200), axles: lb(5600), lever: lever('1 ft', '4 ft') }));
    expect(weighed.tongue.value).toBeCloseTo(800, 9);
    expect(weighed.tongueShare.value).toBeCloseTo(12.5, 9);
    expect(weighed.trailer.value).toBeCloseTo(6400, 9);
    expect(weighed.limitedBy).toBe('the arms of the lever');
    expect(weighed.cautions.join()).toContain('Chock');
    const plain = unwrap(weighTongueScale({ reading: lb(800), axles: lb(5600) }));
    expect(plain.tongue).toEqual(lb(800));
    expect(plain.limitedBy).toBe('the tongue scale');
  });

  it('the scale stands no nearer the fixed end than the tongue, and less than twenty times as far', () => {
    const at = (toTongue: string, toScale: string) =>
      weighTongueScale({ reading: lb(200), axles: lb(5600), lever: lever(toTongue, toScale) });
    expect(at('1 ft', '1 ft').ok).toBe(true);
    expect(refused(at('1 ft', '0.9 ft'))).toBe('loads.lever at lever');
    expect(refused(at('1 ft', '20 ft'))).toBe('loads.lever at lever');
    expect(refused(at('1 ft', '-4 ft'))).toMatch(/ at lever/);
    expect(refused(at('0 ft', '4 ft'))).toMatch(/ at lever/);
  });

  it('refuses what no trailer weighs', () => {
    expect(unwrap(weighTongueScale({ reading: lb(5600), axles: lb(5600) })).tongueShare.value).toBeCloseTo(50, 9);
    expect(refused(weighTongueScale({ reading: lb(5601), axles: lb(5600) }))).toBe(
      'loads.tongue-impossible at reading',
    );
    expect(refused(weighTongueScale({ reading: lb(0), axles: lb(5600) }))).toBe('loads.reading at scale.reading');
    expect(refused(weighTongueScale({ reading: lb(200), axles: lb(0) }))).toBe('loads.reading at scale.axles');
  });
});
