/**
 * What copper wire may carry, by gauge, insulation, heat and bundle.
 *
 * Sources. Enclosed: NEC (NFPA 70) table 310.16, not more than three current-carrying conductors in raceway or cable, 30 °C, read in
 * two equipment makers' reprints of older editions and in public copies of the current one; where editions differ (14, 12, 3 and
 * 1 AWG) the lower figure stands here. It has no 105 °C column: such wire counts as 90 °C there. In the open: 33 CFR 183.425
 * table 5, single conductors of boats at 30 °C, the same figures as the marine standard ABYC E-11. The low-voltage ceilings of
 * NEC 551.10(E)(1) for 18 to 10 AWG are from memory and hold in both.
 */

/** °C printed on the wire. */
export type Insulation = '60' | '75' | '90' | '105';
export const INSULATIONS = ['60', '75', '90', '105'] as const;

/** `enclosed`: in a wall, sleeve, conduit or cable. `open`: single wires in free air. */
export type Laying = 'enclosed' | 'open';
export const LAYINGS = ['enclosed', 'open'] as const;

type Row = Readonly<Record<Insulation, number>>;

function rows(text: string): Readonly<Record<string, Row>> {
  return Object.fromEntries(
    text
      .trim()
      .split('\n')
      .map((line) => {
        const [gauge, ...amps] = line.split(/\s+/);
        return [gauge!, Object.fromEntries(INSULATIONS.map((rating, i) => [rating, Number(amps[i])])) as Row];
      }),
  );
}

/** Amperes at 30 °C by gauge: insulation of 60, 75, 90 and 105 °C. */
export const AMPACITY: Readonly<Record<Laying, Readonly<Record<string, Row>>>> = {
  // 18 and 16 AWG have no 60 °C row in 310.16: the ceilings of 551.10(E)(1).
  enclosed: rows(`
18    6   6   6   6
16    8   8   8   8
14   15  20  25  25
12   20  25  30  30
10   30  35  40  40
8    40  50  55  55
6    55  65  75  75
4    70  85  95  95
3    85 100 110 110
2    95 115 130 130
1   110 130 145 145
1/0 125 150 170 170
2/0 145 175 195 195
3/0 165 200 225 225
4/0 195 230 260 260`),
  open: rows(`
18   10  10  20  20
16   15  15  25  25
14   20  20  30  35
12   25  25  40  45
10   40  40  55  60
8    55  65  70  80
6    80  95 100 120
4   105 125 135 160
3   120 145 155 180
2   140 170 180 210
1   165 195 210 245
1/0 195 230 245 285
2/0 225 265 285 330
3/0 260 310 330 385
4/0 300 360 385 445`),
};

/** Highest fuse of a low-voltage circuit, NEC 551.10(E)(1), from memory. */
export const LOW_VOLTAGE_CEILING: Readonly<Record<string, number>> = { '18': 6, '16': 8, '14': 15, '12': 20, '10': 30 };

/**
 * Share left at an ambient temperature: [highest °C of the band, share]. Source: NEC table 310.15(B)(1), an equipment maker's
 * reprint and a public copy. 105 °C has no column there: the figure of 33 CFR 183.425 note 1 at 50 °C (0.85, a marine wire
 * maker's reprint) and the 90 °C column elsewhere. No wire is allowed more than its table for being cold.
 */
export const AMBIENT_SHARE: Readonly<Record<Insulation, readonly (readonly [celsius: number, share: number])[]>> = {
  '60': [
    [30, 1],
    [35, 0.91],
    [40, 0.82],
    [45, 0.71],
    [50, 0.58],
    [55, 0.41],
  ],
  '75': [
    [30, 1],
    [35, 0.94],
    [40, 0.88],
    [45, 0.82],
    [50, 0.75],
    [55, 0.67],
    [60, 0.58],
    [65, 0.47],
    [70, 0.33],
  ],
  '90': [
    [30, 1],
    [35, 0.96],
    [40, 0.91],
    [45, 0.87],
    [50, 0.82],
    [55, 0.76],
    [60, 0.71],
    [65, 0.65],
    [70, 0.58],
    [75, 0.5],
    [80, 0.41],
    [85, 0.29],
  ],
  '105': [
    [30, 1],
    [35, 0.96],
    [40, 0.91],
    [45, 0.87],
    [50, 0.85],
    [55, 0.76],
    [60, 0.71],
    [65, 0.65],
    [70, 0.58],
    [75, 0.5],
    [80, 0.41],
    [85, 0.29],
  ],
};

/**
 * Share left by the number of current-carrying wires together: [most wires, share]. Source: enclosed NEC table 310.15(C)(1);
 * open the correction table of the Coast Guard's electrical guideline for boats, as a marine wire maker prints it.
 */
export const BUNDLE_SHARE: Readonly<Record<Laying, readonly (readonly [most: number, share: number])[]>> = {
  enclosed: [
    [3, 1],
    [6, 0.8],
    [9, 0.7],
    [20, 0.5],
    [30, 0.45],
    [40, 0.4],
    [Number.POSITIVE_INFINITY, 0.35],
  ],
  open: [
    [2, 1],
    [3, 0.7],
    [6, 0.6],
    [24, 0.5],
    [Number.POSITIVE_INFINITY, 0.4],
  ],
};

/** Fuses on sale, ampere: blade fuses to 10 A, then NEC 240.6(A), both from memory. */
export const FUSES = [
  1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350,
  400,
] as const;
