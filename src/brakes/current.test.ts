import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { BRAKE_VERDICTS, brakeCurrent, DRUM_SIZES } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const faultOf = (result: Result<unknown>) => (result.ok ? 'ok' : [result.problems[0]!.code, result.problems[0]!.where]);

const four = { brakes: 4, size: '12 in' as const };
const total = (amperes: number, volts?: number) =>
  unwrap(
    brakeCurrent({
      ...four,
      current: quantity(amperes, 'A'),
      voltage: volts === undefined ? undefined : quantity(volts, 'V'),
    }),
  );
const axle = (amperes: number, volts?: number) =>
  unwrap(
    brakeCurrent({
      brakes: 2,
      size: '12 in',
      current: quantity(amperes, 'A'),
      voltage: volts === undefined ? undefined : quantity(volts, 'V'),
    }),
  ).verdict;
const wheel = (amperes: number, volts?: number) =>
  unwrap(
    brakeCurrent({
      brakes: 1,
      size: '12 in',
      current: quantity(amperes, 'A'),
      voltage: volts === undefined ? undefined : quantity(volts, 'V'),
    }),
  ).verdict;

describe('brakeCurrent of all brakes together', () => {
  it('does not prove four brakes where three sound cold magnets draw as much', () => {
    // Three of 3.2 Ω at 12 V: 11.25 A, inside the published 11 to 12 A of four.
    expect(total(11.25, 12).verdict).toBe('cannot-tell');
    expect(total(11.25, 12).readings[0]!.drawing.least).toBe(3);
    expect(total(12, 12).verdict).toBe('cannot-tell');
    // The coldest three: 3.2 Ω at −20 °C is 2.697 Ω, 4.449 A each.
    expect(total(13.34, 12).verdict).toBe('cannot-tell');
    expect(total(13.36, 12).verdict).toBe('in-service');
    expect(total(15, 12).verdict).toBe('in-service');
    expect(total(15.01, 12).verdict).toBe('short');
  });

  it('never proves four where the voltage was not read', () => {
    for (let amperes = 0; amperes < 25; amperes += 0.05) expect(total(amperes).verdict).not.toBe('in-service');
  });

  it('says low under the published replacement limit, whatever the voltage', () => {
    expect(total(9, 12).verdict).toBe('low');
    expect(total(9, 12).readings[0]!.drawing).toEqual({ least: 3, most: 3 });
    expect(total(10.99, 12).verdict).toBe('low');
    expect(total(10.9, 10).verdict).toBe('low');
    expect(total(11.1, 13).verdict).toBe('low');
    expect(total(0.05).verdict).toBe('open');
    expect(total(0.05).readings[0]!.drawing).toEqual({ least: 0, most: 0 });
    expect(total(0.1).verdict).toBe('low');
  });
});

describe('brakeCurrent of a wheel or an axle', () => {
  it('proves what it reads', () => {
    expect([2.7, 2.75, 3.75, 3.76, 4.07, 4.2].map((amperes) => wheel(amperes))).toEqual([
      'low',
      'in-service',
      'in-service',
      'cannot-tell',
      // 13 V over 3.2 Ω is 4.06 A: above it a short.
      'short',
      'short',
    ]);
    expect([wheel(3.76, 12), wheel(4.06, 13), wheel(4.07, 13)]).toEqual(['short', 'in-service', 'short']);
    expect([axle(5.4), axle(5.5), axle(7.5), axle(7.6), axle(8.2)]).toEqual([
      'low',
      'in-service',
      'in-service',
      'cannot-tell',
      'short',
    ]);
    // One magnet alone on the axle, at its coldest and with the charger on, is still told apart.
    expect(axle(14.5 / (3.2 * (1 - 40 * 0.00393)))).toBe('low');
  });

  it('is judged reading by reading; the worst counts, and what was not read', () => {
    const readings = [
      { where: 'axle 1', brakes: 2, current: q('5.8 A') },
      { where: 'axle 2', brakes: 2, current: q('3.1 A') },
    ];
    const both = unwrap(brakeCurrent({ ...four, readings, voltage: q('12 V') }));
    expect(both.verdict).toBe('low');
    expect(both.readings.map((one) => [one.where, one.verdict, one.drawing])).toEqual([
      ['axle 1', 'in-service', { least: 2, most: 2 }],
      ['axle 2', 'low', { least: 1, most: 1 }],
    ]);
    const half = unwrap(brakeCurrent({ ...four, readings: readings.slice(0, 1) }));
    expect(half).toMatchObject({ verdict: 'cannot-tell', unread: 2 });
    expect(half.cautions).toContain('2 of 4 brakes were not read.');
    const sound = unwrap(
      brakeCurrent({ ...four, readings: readings.map((reading) => ({ ...reading, current: q('5.8 A') })) }),
    );
    expect(sound).toMatchObject({ verdict: 'in-service', unread: 0 });
    expect(sound.cautions.join()).not.toContain('not read');
    // The advice and the two standing cautions, nothing else.
    expect(sound.cautions).toHaveLength(3);
    const none = unwrap(brakeCurrent(four));
    expect(none).toMatchObject({ verdict: null, unread: 4, readings: [] });
    expect(none.cautions.join()).not.toContain('not read');
    const dead = unwrap(brakeCurrent({ ...four, readings: [readings[0]!, { ...readings[1]!, current: q('0 A') }] }));
    expect(dead.verdict).toBe('open');
    expect(dead.cautions[0]).toContain('do not tow');
  });

  it('knows the spans of one to four sound magnets, hot to cold', () => {
    const { spans, most, expected, assumed } = unwrap(brakeCurrent({ ...four, voltage: q('12 V') }));
    expect(spans.map((span) => span.magnets)).toEqual([1, 2, 3, 4]);
    // 3.5 Ω at 120 °C is 4.876 Ω; 3.2 Ω at −20 °C is 2.697 Ω (0.393 % a °C).
    for (const span of spans) {
      expect(span.low.value).toBeCloseTo((span.magnets * 12) / 4.8755, 3);
      expect(span.high.value).toBeCloseTo((span.magnets * 12) / 2.69696, 3);
    }
    expect(most).toEqual(q('15 A'));
    expect([expected.low.value, expected.high.value]).toEqual([11, 12]);
    expect(assumed).toEqual([]);
    const unknown = unwrap(brakeCurrent(four));
    expect(unknown.spans[0]!.low.value).toBeCloseTo(10 / 4.8755, 3);
    expect(unknown.spans[0]!.high.value).toBeCloseTo(14.5 / 2.69696, 3);
    expect(unknown.assumed).toHaveLength(1);
    expect(unwrap(brakeCurrent({ ...four, voltage: q('13.2 V') })).expected.high.value).toBeCloseTo(13.2, 9);
    expect(unwrap(brakeCurrent({ ...four, voltage: q('10 V') })).expected.high.value).toBe(12);
    const seven = unwrap(brakeCurrent({ brakes: 2, size: '7 in', voltage: q('12 V') }));
    expect([seven.expected.high.value, seven.most.value]).toEqual([5, 24 / 3.8]);
  });

  it('warns of a low voltage', () => {
    const cautions = (volts: string) => unwrap(brakeCurrent({ ...four, voltage: q(volts) })).cautions.join();
    expect(cautions('11.9 V')).toContain('Under 12 V');
    expect(cautions('12 V')).not.toContain('Under 12 V');
  });
});

describe('brakeCurrent never errs to the mild side', () => {
  const any = fc.record({
    size: fc.constantFrom(...DRUM_SIZES),
    count: fc.integer({ min: 1, max: 12 }),
    sound: fc.nat(11),
    ohms: fc.double({ min: 0, max: 1, noNaN: true }),
    celsius: fc.double({ min: -20, max: 120, noNaN: true }),
    volts: fc.double({ min: 10, max: 14.5, noNaN: true }),
    told: fc.boolean(),
  });

  it('so many sound magnets of more are never all in service', () => {
    fc.assert(
      fc.property(any, ({ size, count, sound, ohms, celsius, volts, told }) => {
        fc.pre(sound < count);
        const [least, most] = size === '7 in' ? [3.8, 4] : [3.2, 3.5];
        const resistance = (least! + ohms * (most! - least!)) * (1 + 0.00393 * (celsius - 20));
        const answer = unwrap(
          brakeCurrent({
            brakes: count,
            size,
            current: quantity((sound * volts) / resistance, 'A'),
            voltage: told ? quantity(volts, 'V') : undefined,
          }),
        );
        expect(answer.verdict).not.toBe('in-service');
        const { drawing, verdict } = answer.readings[0]!;
        if (verdict === 'short' || verdict === 'open') return;
        expect(drawing.least).toBeLessThanOrEqual(sound);
        expect(drawing.most).toBeGreaterThanOrEqual(sound);
      }),
      { numRuns: 500 },
    );
  });

  it('under the published limit it is low or open, above Ohm’s law a short', () => {
    fc.assert(
      fc.property(any, fc.double({ min: 0, max: 1, noNaN: true }), ({ size, count, volts, told }, share) => {
        const each = size === '7 in' ? 2.5 : 3;
        const ask = (amperes: number) =>
          unwrap(
            brakeCurrent({
              brakes: count,
              size,
              current: quantity(amperes, 'A'),
              voltage: told ? quantity(volts, 'V') : undefined,
            }),
          ).verdict!;
        expect(['low', 'open']).toContain(ask(count * each * (5.5 / 6) * share * 0.9999));
        const ohm = (told ? volts : 13) / (size === '7 in' ? 3.8 : 3.2);
        // More than 100 A is no reading of these brakes at all.
        expect(ask(Math.min(100, count * ohm * (1.0001 + share)))).toBe('short');
        expect(BRAKE_VERDICTS).toContain(ask(count * ohm * share));
      }),
    );
  });
});

describe('brakeCurrent refuses what cannot be, and names the field', () => {
  const one = { where: 'left', brakes: 1, current: q('3 A') };
  it.each<[object, readonly string[]]>([
    [{ brakes: 2.5 }, ['brakes.count', 'brakes']],
    [{ brakes: 0 }, ['brakes.count', 'brakes']],
    [{ brakes: 13 }, ['brakes.count', 'brakes']],
    [{ voltage: q('120 V') }, ['brakes.reading', 'voltage']],
    [{ voltage: q('5.9 V') }, ['brakes.reading', 'voltage']],
    [{ current: q('-1 A') }, ['brakes.reading', 'current']],
    [{ current: quantity(1e308, 'A') }, ['brakes.reading', 'current']],
    [{ current: q('3 A'), readings: [one] }, ['brakes.readings', 'current']],
    [{ readings: [one, { ...one, current: q('101 A') }] }, ['brakes.reading', 'readings.1.current']],
    [{ readings: [{ ...one, brakes: 0 }] }, ['brakes.count', 'readings.0.brakes']],
    [{ readings: [{ ...one, brakes: 5 }] }, ['brakes.readings', 'readings']],
  ])('%j', (change, fault) => expect(faultOf(brakeCurrent({ ...four, ...change }))).toEqual(fault));

  it('takes the ends', () => {
    expect(faultOf(brakeCurrent({ brakes: 12, size: '12 in', voltage: q('15 V') }))).toBe('ok');
    expect(faultOf(brakeCurrent({ brakes: 1, size: '12 in', voltage: q('6 V'), current: q('100 A') }))).toBe('ok');
    expect(faultOf(brakeCurrent({ ...four, readings: [{ ...one, brakes: 4 }] }))).toBe('ok');
  });
});
