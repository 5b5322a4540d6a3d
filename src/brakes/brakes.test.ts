import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { brakeAdjustment, stopping, wheelTorque, wheelTorques } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

describe('brakeAdjustment', () => {
  it('is due after 200 miles, then every 3,000', () => {
    expect(unwrap(brakeAdjustment({ adjustedAt: q('18,204.6 mi'), now: q('18,304.6 mi'), first: true }))).toMatchObject(
      { dueAt: q('18,404.6 mi'), left: q('100 mi') },
    );
    expect(unwrap(brakeAdjustment({ adjustedAt: q('100 mi'), now: q('4,000 mi'), first: false })).left.value).toBe(
      -900,
    );
    const at = (now: string, adjustedAt = '100 mi') =>
      brakeAdjustment({ adjustedAt: q(adjustedAt), now: q(now), first: false });
    expect(codeOf(at('50 mi'))).toBe('brakes.miles');
    expect(codeOf(at('100 mi'))).toBe('ok');
    expect(codeOf(at('50 mi', '-1 mi'))).toBe('brakes.miles');
    expect(codeOf(at('50 mi', '0 mi'))).toBe('ok');
    expect(unwrap(at('3,100 mi')).cautions[0]).toMatch(/^Due/);
    expect(unwrap(at('3,099 mi')).cautions[0]).toMatch(/^Stands/);
    expect(unwrap(at('3,101 mi')).cautions[0]).toMatch(/^Past due/);
    expect(unwrap(at('3,100 mi')).limitedBy).toBe('lining wear');
  });
});

describe('stopping', () => {
  it('grows with the square of the speed', () => {
    const at = (speed: string) => unwrap(stopping({ kind: 'other-combination', speed: q(speed) })).distance.value;
    expect(at('40 mph')).toBeCloseTo(4 * at('20 mph'), 9);
    expect(unwrap(stopping({ kind: 'other-combination', speed: q('30 km/h') })).distance.unit).toBe('m');
    const code = (speed: string) => codeOf(stopping({ kind: 'other-combination', speed: q(speed) }));
    expect(['0 mph', '-5 mph', '90 mph', '91 mph'].map(code)).toEqual([
      'brakes.speed',
      'brakes.speed',
      'ok',
      'brakes.speed',
    ]);
    // 60 mph is 88 ft/s: 2.5 s and 11.2 ft/s² (AASHTO, from memory) make 565.7 ft; the Green Book prints 566.
    const kept = unwrap(stopping({ kind: 'other-combination', speed: q('60 mph') }));
    expect(kept.distanceKept.value).toBeCloseTo(565.7, 1);
    expect(kept.distance.value).toBeCloseTo(88 ** 2 / 28, 9);
    expect(kept).toMatchObject({ distanceRule: q('40 ft'), emergencyRule: q('90 ft'), forceShare: q('43.5 %') });
  });
});

describe('wheelTorque', () => {
  it('answers what the charts have in common, in stages, with follow-ups', () => {
    const torque = unwrap(wheelTorque({ stud: '1/2', wheelDiameter: q('15 in'), material: 'steel' }));
    expect(torque.final).toEqual({ low: q('90 lb-ft'), high: q('120 lb-ft') });
    expect(torque.stages).toHaveLength(2);
    expect(torque.followUps).toEqual([q('10 mi'), q('25 mi'), q('50 mi')]);
    expect(torque.sourcesUsed.length).toBeGreaterThan(1);
    expect(unwrap(wheelTorque({ stud: '1/2 in', wheelDiameter: q('13 in') })).final).toEqual({
      low: q('50 lb-ft'),
      high: q('60 lb-ft'),
    });
  });

  it('follows up in rising miles, after the 10, 25 and 50 of five makers where the charts that hold name none', () => {
    for (const wheel of ['12 in', '13 in', '14.5 in', '16 in']) {
      for (const stud of ['1/2', '9/16', '5/8']) {
        const torque = wheelTorque({ stud, wheelDiameter: q(wheel) });
        if (torque.ok) expect(torque.value.followUps.map((mile) => mile.value)).toEqual([10, 25, 50]);
      }
    }
  });

  it('gives no answer where charts contradict each other or none holds', () => {
    expect(codeOf(wheelTorque({ stud: '5/8', wheelDiameter: q('17.5 in') }))).toBe('brakes.torque-differs');
    expect(unwrap(wheelTorque({ stud: '5/8', wheelDiameter: q('17.5 in'), nut: 'flange' })).final).toEqual({
      low: q('275 lb-ft'),
      high: q('325 lb-ft'),
    });
    expect(unwrap(wheelTorque({ stud: '5/8', wheelDiameter: q('17.5 in'), nut: 'cone' })).final).toEqual({
      low: q('190 lb-ft'),
      high: q('210 lb-ft'),
    });
    expect(codeOf(wheelTorque({ stud: 'M12 x 1.5', material: 'steel' }))).toBe('brakes.torque-differs');
    expect(codeOf(wheelTorque({ stud: '7/16', wheelDiameter: q('15 in') }))).toBe('brakes.torque-unknown');
    expect(codeOf(wheelTorque({ stud: '9/16' }))).toBe('brakes.torque-unknown');
  });

  it('never leaves the span of any chart it uses', () => {
    for (const row of wheelTorques) {
      const [diameter] = row.diameters;
      if (diameter === undefined || row.stud === '') continue;
      const nut = row.nut === 'any' ? undefined : row.nut;
      const found = wheelTorque({
        stud: row.stud,
        wheelDiameter: quantity(diameter, 'in'),
        material: row.material === 'any' ? undefined : row.material,
        nut,
      });
      if (!found.ok || !found.value.sourcesUsed.includes(row.source)) continue;
      expect(found.value.final.low.value).toBeGreaterThanOrEqual(row.final[0]);
      expect(found.value.final.high.value).toBeLessThanOrEqual(row.final[1]);
    }
  });
});
