import type { ReadingFact } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { gaugeAt } from '../tires/index.ts';

/** Air at which cold pressures are compared: 20 °C, the usual reference for gauges. */
const REFERENCE: Quantity = { value: 20, unit: 'degC' };
const SEA_LEVEL: Quantity = { value: 0, unit: 'ft' };

/**
 * A reading on the scale on which readings of its kind can be compared: a cold gauge pressure as it would be at 20 °C at home, every
 * other reading as it is. A pressure without its air temperature stays as it was read; one without its height was read at home.
 */
export function comparable(what: string, reading: ReadingFact, homeElevation: Quantity = SEA_LEVEL): Quantity {
  const { value, temperature, elevation = homeElevation } = reading;
  if (what !== 'pressure-cold' || !temperature) return value;
  const there = gaugeAt(value, { temperature, elevation }, { temperature: REFERENCE, elevation: homeElevation });
  return there.ok ? there.value : value;
}
