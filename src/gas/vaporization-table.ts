/**
 * Continuous vapor a 100 lb cylinder gives, BTU/h, by pounds of propane left and air temperature.
 *
 * Source: a burner maker's LP-gas vaporization chart; its first column had lost its heading and is read as 0 °F.
 */

export const VAPORIZATION_FAHRENHEIT = [0, 20, 40, 60, 70] as const;

/** [pounds left, BTU/h at each temperature of VAPORIZATION_FAHRENHEIT], least first. */
export const vaporization100lb: readonly (readonly [lb: number, btuAnHour: readonly number[]])[] = [
  [10, [28000, 38000, 49000, 60000, 66000]],
  [20, [36000, 51000, 68000, 83000, 92000]],
  [30, [45000, 66000, 85000, 107000, 118000]],
  [40, [55000, 79000, 105000, 131000, 141000]],
  [50, [64000, 94000, 125000, 154000, 167000]],
  [60, [75000, 109000, 140000, 176000, 192000]],
  [70, [83000, 122000, 160000, 199000, 214000]],
  [80, [94000, 137000, 180000, 214000, 236000]],
  [90, [104000, 152000, 200000, 247000, 277000]],
  [100, [113000, 167000, 214000, 277000, 300000]],
];

/**
 * Share of the 0 °F figure at colder temperatures, °F. Source: a motorhome maker's operator manual of 2004, section 5. Its next row is −44 °F with none at all.
 */
export const coldMultipliers: readonly (readonly [fahrenheit: number, share: number])[] = [
  [-20, 0.125],
  [-15, 0.25],
  [-10, 0.5],
  [-5, 0.75],
  [0, 1],
];
