/** Whether an outlet runs and starts a compressor, and whether the figures of the compressor can be at all. */

import type { Problem } from '../problem/index.ts';
import { formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';

/** What a compressor draws and an outlet gives. */
export interface Powers {
  readonly powerRunning?: Quantity | undefined;
  readonly powerStarting?: Quantity | undefined;
  readonly outletContinuous?: Quantity | undefined;
  readonly outletStarting?: Quantity | undefined;
}

export interface OutletAnswer {
  /** Null where not all of what it needs was given. */
  readonly outletHolds: boolean | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const watts = (power: Quantity | undefined): number | null => (power === undefined ? null : valueIn(power, 'W'));
const shown = (power: number): string => formatQuantity(quantity(power, 'W'), { digits: 0 });

/**
 * The first figure of these that cannot be, or null. A compressor draws more than the ideal work of compressing the air it is said to
 * deliver; it draws no less to start than to run; an outlet gives no less for an instant than without end.
 */
export function powersProblem(powers: Powers, idealWatts: number): Problem | null {
  const names = ['powerRunning', 'powerStarting', 'outletContinuous', 'outletStarting'] as const;
  const none = names.find((name) => powers[name] !== undefined && !(powers[name].value > 0));
  if (none !== undefined) {
    return {
      code: 'inflate.power',
      what: 'What draws or gives nothing runs nothing.',
      where: none,
      expected: 'a power above zero, as on the label',
    };
  }
  const [running, starting] = [watts(powers.powerRunning), watts(powers.powerStarting)];
  if (running !== null && running < idealWatts) {
    return {
      code: 'inflate.power-impossible',
      what: `A compressor that draws ${shown(running)} cannot deliver that much air: compressing it takes ${shown(idealWatts)} with no loss at all.`,
      where: 'powerRunning',
      expected: `more than ${shown(idealWatts)}, commonly two to three times that, or a smaller delivery`,
      next: 'Read both figures again: delivery is often printed for no pressure, power for a pump of another size.',
    };
  }
  if (starting !== null && starting < Math.max(running ?? 0, idealWatts)) {
    return {
      code: 'inflate.power-impossible',
      what: `A motor draws more to start than to run; ${shown(starting)} is less.`,
      where: 'powerStarting',
      expected: 'what it draws for an instant at the start, several times its running power',
    };
  }
  const [continuous, instant] = [watts(powers.outletContinuous), watts(powers.outletStarting)];
  if (continuous !== null && instant !== null && instant < continuous) {
    return {
      code: 'inflate.power-impossible',
      what: `An outlet that gives ${shown(continuous)} without end gives no less for an instant.`,
      where: 'outletStarting',
      expected: 'the larger of the outlet’s two figures',
    };
  }
  return null;
}

/** Running and starting power against what the outlet gives: both limits hold on their own. */
export function outletAnswer(powers: Powers, idealWatts: number): OutletAnswer {
  const base = 'the compressor’s free-air delivery';
  const continuous = watts(powers.outletContinuous);
  if (continuous === null) return { outletHolds: null, limitedBy: base, cautions: [] };
  const running = watts(powers.powerRunning);
  const starting = watts(powers.powerStarting);
  const most = running ?? idealWatts;
  if (most > continuous) {
    return {
      outletHolds: false,
      limitedBy: 'the outlet’s continuous limit',
      cautions: [`It runs at ${shown(most)} and the outlet gives ${shown(continuous)}.`],
    };
  }
  if (starting !== null && starting > (watts(powers.outletStarting) ?? continuous)) {
    return {
      outletHolds: false,
      limitedBy: 'the outlet’s starting limit',
      cautions: ['It would run, but the outlet cannot start it.'],
    };
  }
  if (running === null || starting === null) {
    return {
      outletHolds: null,
      limitedBy: base,
      cautions: ['Running and starting power of the compressor are both needed to say whether the outlet holds.'],
    };
  }
  return { outletHolds: true, limitedBy: base, cautions: [] };
}
