import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { LEAK_METHODS, LEAK_VERDICTS, leakDrop } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
const whereOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.where);

const test = {
  method: 'appliances-connected',
  startPressure: q('11 in. w.c.'),
  drop: q('0 in. w.c.'),
  time: q('10 min'),
  gaugeStep: q('0.1 in. w.c.'),
  steady: true,
  volume: q('0.05 ft³'),
} as const;

describe('leakDrop', () => {
  it('calls ten seconds without a drop no test, and says what is missing', () => {
    const short = unwrap(leakDrop({ ...test, time: q('10 s') }));
    expect(short.verdict).toBe('not-a-test');
    expect(short.missing).toEqual(['time: 10 min at least (WAC 296-150C-1460)']);
    expect(short.cautions[0]).toMatch(/^NOT A TEST/);
    expect(short.limitedBy).toBe('what the method asks for');
  });

  it('holds only where everything the method asks for is there', () => {
    const held = unwrap(leakDrop(test));
    expect(held).toMatchObject({ verdict: 'held', missing: [], limitedBy: 'the smallest drop the gauge shows' });
    expect(held.leak).toEqual(quantity(0, 'ft3/h'));
    const missing = (change: object) => {
      const answer = unwrap(leakDrop({ ...test, ...change }));
      return [answer.verdict, ...answer.missing.map((text) => text.split(':')[0])];
    };
    expect(missing({ startPressure: q('3 in. w.c.') })).toEqual(['not-a-test', 'startPressure']);
    expect(missing({ startPressure: q('1 psi') })).toEqual(['not-a-test', 'startPressure']);
    expect(missing({ gaugeStep: q('0.21 in. w.c.') })).toEqual(['not-a-test', 'gaugeStep']);
    expect(missing({ gaugeStep: q('0.2 in. w.c.') })).toEqual(['held']);
    expect(missing({ steady: false })).toEqual(['not-a-test', 'steady']);
    expect(missing({ time: q('1 s'), steady: false, gaugeStep: q('1 psi'), startPressure: q('1 in. w.c.') })).toEqual([
      'not-a-test',
      'time',
      'startPressure',
      'gaugeStep',
      'steady',
    ]);
    expect(missing({ method: 'piping-alone', startPressure: q('31 psi'), time: q('1 h') })).toEqual([
      'not-a-test',
      'startPressure',
    ]);
  });

  it('calls any drop a leak, by a test or not', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...LEAK_METHODS),
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        fc.double({ min: 1e-6, max: 1, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.boolean(),
        (method, start, share, minutes, steady) => {
          const answer = unwrap(
            leakDrop({
              ...test,
              method,
              startPressure: quantity(start, 'psi'),
              drop: quantity(start * share, 'psi'),
              time: quantity(minutes, 'min'),
              steady,
            }),
          );
          expect(answer.verdict).toBe('leaks');
          expect(answer.cautions[0]).toMatch(/^It leaks/);
          expect(answer.leak!.value).toBeGreaterThan(0);
        },
      ),
    );
  });

  it('never holds in less time, on a coarser gauge or in changing heat than a test that does not', () => {
    const rank = (change: object) => LEAK_VERDICTS.indexOf(unwrap(leakDrop({ ...test, ...change })).verdict);
    fc.assert(
      fc.property(
        fc.constantFrom(...LEAK_METHODS),
        fc.double({ min: 0.1, max: 40, noNaN: true }),
        fc.double({ min: 0.01, max: 40, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (method, start, minutes, step) => {
          const base = {
            method,
            startPressure: quantity(start, start > 15 ? 'psi' : 'inH2O'),
            time: quantity(minutes, 'min'),
            gaugeStep: quantity(step, 'inH2O'),
          };
          for (const worse of [
            { time: quantity(minutes / 2, 'min') },
            { gaugeStep: quantity(step * 3, 'inH2O') },
            { steady: false },
          ])
            expect(rank({ ...base, ...worse })).toBeGreaterThanOrEqual(rank(base));
        },
      ),
    );
  });

  it('sizes the leak in the units of the volume, and what the gauge can hide', () => {
    const leak = unwrap(leakDrop({ ...test, time: q('3 min'), drop: q('1 in. w.c.') }));
    // 0.05 ft³ · 249.089 Pa / 101,325 Pa / 0.05 h.
    expect(leak.leak!.value).toBeCloseTo((0.05 * 249.089) / 101_325 / 0.05, 6);
    expect(leak.heat!.value).toBeCloseTo(leak.leak!.value * 2488, 9);
    expect(leak.hidden!.value).toBeCloseTo(leak.heat!.value / 10, 9);
    expect(leak.assumed).toEqual(['elevation: sea level']);
    const metric = unwrap(leakDrop({ ...test, volume: q('1.41584 L'), time: q('3 min'), drop: q('2.49089 mbar') }));
    expect([metric.leak!.unit, metric.heat!.unit]).toEqual(['L/h', 'W']);
    expect(valueIn(metric.leak!, 'ft3/h')).toBeCloseTo(0.0024583, 6);
    const high = unwrap(leakDrop({ ...test, time: q('3 min'), drop: q('1 in. w.c.'), elevation: q('8,000 ft') }));
    expect(high.leak!.value).toBeGreaterThan(leak.leak!.value);
    expect(high.assumed).toEqual([]);
  });

  it('judges without a volume, and leaves the size open', () => {
    const { volume: _, ...bare } = test;
    expect(unwrap(leakDrop(bare))).toMatchObject({
      verdict: 'held',
      leak: null,
      heat: null,
      hidden: null,
      assumed: [],
    });
    expect(unwrap(leakDrop({ ...bare, drop: q('1 in. w.c.') }))).toMatchObject({ verdict: 'leaks', leak: null });
  });

  it('refuses what cannot be, and names the field', () => {
    expect(codeOf(leakDrop({ ...test, drop: q('-0.1 in. w.c.') }))).toBe('gas.leak-rise');
    expect(whereOf(leakDrop({ ...test, time: q('0 min') }))).toBe('time');
    expect(whereOf(leakDrop({ ...test, startPressure: q('0 psi') }))).toBe('startPressure');
    expect(whereOf(leakDrop({ ...test, gaugeStep: q('0 psi') }))).toBe('gaugeStep');
    expect(whereOf(leakDrop({ ...test, volume: q('0 ft³') }))).toBe('volume');
    expect(codeOf(leakDrop({ ...test, drop: q('12 in. w.c.') }))).toBe('gas.leak-drop');
    expect(codeOf(leakDrop({ ...test, drop: q('11 in. w.c.') }))).toBe('ok');
    expect(whereOf(leakDrop({ ...test, elevation: q('900 mi') }))).toBe('elevation');
  });
});
