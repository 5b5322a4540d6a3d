/** Load index and speed symbol, as moulded after the size: `117/112 N`. */

/**
 * Load of index 60 upwards, kilograms. Source: ISO 4000-1 and ETRTO load-capacity index; 60 to 123 seen in published maker
 * and dealer tables, 124 to 132 from memory.
 */
export const LOAD_INDEX_FIRST = 60;
export const loadIndexKg: readonly number[] = [
  250, 257, 265, 272, 280, 290, 300, 307, 315, 325, 335, 345, 355, 365, 375, 387, 400, 412, 425, 437, 450, 462, 475,
  487, 500, 515, 530, 545, 560, 580, 600, 615, 630, 650, 670, 690, 710, 730, 750, 775, 800, 825, 850, 875, 900, 925,
  950, 975, 1000, 1030, 1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, 1400, 1450, 1500, 1550, 1600, 1650,
  1700, 1750, 1800, 1850, 1900, 1950, 2000,
];

/**
 * Speed of a symbol, km/h. Source: ISO 4000-1 and ETRTO speed category symbols; L to Y seen in published tables, A8 to K
 * from memory.
 */
export const speedSymbolKmh: Readonly<Record<string, number>> = {
  A8: 40,
  B: 50,
  C: 60,
  D: 65,
  E: 70,
  F: 80,
  G: 90,
  J: 100,
  K: 110,
  L: 120,
  M: 130,
  N: 140,
  P: 150,
  Q: 160,
  R: 170,
  S: 180,
  T: 190,
  U: 200,
  H: 210,
  V: 240,
  W: 270,
  Y: 300,
};
