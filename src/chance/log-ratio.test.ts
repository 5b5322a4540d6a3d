import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { locatedTCdf, locatedTQuantile, logRatioPosterior, logRatioPriorOfTrips } from './log-ratio.ts';

describe('logRatioPosterior', () => {
  it('before any trip expects 8 % more than planned, and one trip in a hundred at some 1.6 times', () => {
    const belief = unwrap(logRatioPosterior(logRatioPriorOfTrips, []));
    expect(Math.exp(belief.location)).toBeCloseTo(1.08, 14);
    expect(belief).toMatchObject({ degrees: 8, weight: 4 });
    expect(belief.spread).toBeCloseTo(0.12, 14);
    expect(belief.scale).toBeCloseTo(0.12 * Math.sqrt(1.25), 14);
    expect(Math.exp(locatedTQuantile(belief, 0.99))).toBeCloseTo(1.6, 1);
  });

  it('follows the formulas worked by hand for two trips', () => {
    // Prior mean 0, weight 1, spread 1, degrees 1; logarithms 1 and 3: mean 2, S 2, weight' 3, pull 2/3·4 = 8/3,
    // location 4/3, degrees' 3, s² = (1 + 2 + 8/3)/3 = 17/9, scale² = 17/9 · 4/3 = 68/27.
    const belief = unwrap(logRatioPosterior({ mean: 0, weight: 1, spread: 1, degrees: 1 }, [Math.E, Math.E ** 3]));
    expect(belief.location).toBeCloseTo(4 / 3, 13);
    expect(belief.degrees).toBe(3);
    expect(belief.scale ** 2).toBeCloseTo(68 / 27, 13);
    expect(belief.spread ** 2).toBeCloseTo(17 / 9, 13);
  });

  it('predicts as adding up over a grid of means and spreads does', () => {
    const ratios = [1.3, 1.02, 1.11];
    const belief = unwrap(logRatioPosterior(logRatioPriorOfTrips, ratios));
    const { mean, weight, spread, degrees } = logRatioPriorOfTrips;
    let [total, below] = [0, 0];
    const target = 0.2;
    for (let k = 0; k < 120; k++) {
      const sigma = 0.12 * Math.exp(-1.5 + (k * 3.5) / 119);
      for (let i = 0; i < 121; i++) {
        const mu = mean + (sigma / Math.sqrt(weight)) * (-7 + (i * 14) / 120);
        let log = -degrees * Math.log(sigma) - (degrees * spread ** 2) / (2 * sigma * sigma);
        log -= (0.5 * weight * (mu - mean) ** 2) / (sigma * sigma);
        for (const ratio of ratios) log -= 0.5 * ((Math.log(ratio) - mu) / sigma) ** 2 + Math.log(sigma);
        // Chance of the next below the target, by a plain sum over the normal density.
        let chance = 0;
        for (let z = -6; z < (target - mu) / sigma && z < 6; z += 0.05) chance += 0.05 * Math.exp(-0.5 * z * z);
        total += Math.exp(log);
        below += (Math.exp(log) * chance) / Math.sqrt(2 * Math.PI);
      }
    }
    expect(locatedTCdf(belief, target)).toBeCloseTo(below / total, 2);
  });

  it('forgets its prior after many trips', () => {
    const ratios = Array.from({ length: 4000 }, (_, i) => Math.exp(0.3 + (i % 2 === 0 ? 0.05 : -0.05)));
    const belief = unwrap(logRatioPosterior(logRatioPriorOfTrips, ratios));
    expect(belief.location).toBeCloseTo(0.3, 3);
    expect(belief.scale).toBeCloseTo(0.05, 2);
  });

  it('refuses a ratio that is none', () => {
    for (const ratio of [0, -1, Number.NaN, Infinity]) {
      const result = logRatioPosterior(logRatioPriorOfTrips, [1.1, ratio]);
      expect(!result.ok && result.problems[0]).toMatchObject({ code: 'chance.ratio-not-positive', where: 'ratio 2' });
    }
  });
});
