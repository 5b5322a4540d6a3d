/**
 * Copper wire by American wire gauge.
 *
 * Source: NEC (NFPA 70) chapter 9 table 8: direct-current resistance at 75 °C of uncoated copper, ohms a thousand feet, and
 * circular mils.
 */

export interface WireRow {
  readonly gauge: string;
  readonly circularMils: number;
  /** Stranded, ohms a thousand feet at 75 °C. */
  readonly ohmsStranded: number;
  /** Solid, where the table was seen. */
  readonly ohmsSolid: number | null;
}

/** The thinnest first. */
export const wires: readonly WireRow[] = [
  { gauge: '18', circularMils: 1620, ohmsStranded: 7.95, ohmsSolid: 7.77 },
  { gauge: '16', circularMils: 2580, ohmsStranded: 4.99, ohmsSolid: 4.89 },
  { gauge: '14', circularMils: 4110, ohmsStranded: 3.14, ohmsSolid: 3.07 },
  { gauge: '12', circularMils: 6530, ohmsStranded: 1.98, ohmsSolid: 1.93 },
  { gauge: '10', circularMils: 10380, ohmsStranded: 1.24, ohmsSolid: 1.21 },
  { gauge: '8', circularMils: 16510, ohmsStranded: 0.778, ohmsSolid: 0.764 },
  { gauge: '6', circularMils: 26240, ohmsStranded: 0.491, ohmsSolid: null },
  { gauge: '4', circularMils: 41740, ohmsStranded: 0.308, ohmsSolid: null },
  { gauge: '3', circularMils: 52620, ohmsStranded: 0.245, ohmsSolid: null },
  { gauge: '2', circularMils: 66360, ohmsStranded: 0.194, ohmsSolid: null },
  { gauge: '1', circularMils: 83690, ohmsStranded: 0.154, ohmsSolid: null },
  { gauge: '1/0', circularMils: 105600, ohmsStranded: 0.122, ohmsSolid: null },
  { gauge: '2/0', circularMils: 133100, ohmsStranded: 0.0967, ohmsSolid: null },
  { gauge: '3/0', circularMils: 167800, ohmsStranded: 0.0766, ohmsSolid: null },
  { gauge: '4/0', circularMils: 211600, ohmsStranded: 0.0608, ohmsSolid: null },
];
