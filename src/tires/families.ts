/** Families of tires, what each family's law is, and where the published rows come from. */

/** ST trailer tires, LT-metric radials, older bias truck tires, P-metric passenger tires. They are never mixed. */
export type TireFamily = 'ST' | 'LT' | 'LT-bias' | 'P';

export const TIRE_FAMILIES = ['ST', 'LT', 'LT-bias', 'P'] as const;

/**
 * Exponent n of load = loadMax · (pressure / pressureMax)^n.
 *
 * Sources: P 0.50, the Tire and Rim Association's formula as posted by a tire engineer; ST and bias 0.585, the same
 * association's exponent from memory, and 0.587 fitted to the published ST225/75R15 row; LT radial 0.70 from memory, and
 * 0.686 fitted to the published LT235/85R16 rows, which 0.70 meets within 0.7 %. The wrong family's exponent can overrate a
 * load by 18 %.
 */
export const LAW_EXPONENT: Readonly<Record<TireFamily, number>> = { ST: 0.585, LT: 0.7, 'LT-bias': 0.585, P: 0.5 };

/** Highest cold pressure of a load range, psi, where no row of the size says otherwise. B to E published; F and G from memory. */
export const LOAD_RANGE_PSI: Readonly<Record<string, number>> = { B: 35, C: 50, D: 65, E: 80, F: 95, G: 110 };

/** The load ranges with a usual pressure, lowest first. */
export const LOAD_RANGES = ['B', 'C', 'D', 'E', 'F', 'G'] as const;

/** Letters that are moulded too, but have no usual pressure here: only the sidewall says (from memory). */
const LOAD_RANGES_BY_SIDEWALL: readonly string[] = ['A', 'H', 'J', 'L', 'M', 'N'];
/** What stands on a passenger tire in place of a letter: light, standard and extra load (from memory). */
const PASSENGER_RANGES: readonly string[] = ['LL', 'SL', 'XL'];

/** Whether a load range is moulded on tires of a family at all. */
export function isLoadRange(range: string, family: TireFamily): boolean {
  if (LOAD_RANGE_PSI[range] !== undefined || LOAD_RANGES_BY_SIDEWALL.includes(range)) return true;
  return family === 'P' && PASSENGER_RANGES.includes(range);
}

/** Ply rating of a load range. B to F published; G from memory. */
export const PLY_RATING: Readonly<Record<string, number>> = { B: 4, C: 6, D: 8, E: 10, F: 12, G: 14 };

/**
 * A passenger-car tire on a trailer, truck or multipurpose vehicle counts for its rating divided by this: 49 CFR 571.120
 * S5.1.2 and 571.110 S4.2.2.2.
 */
export const P_TIRE_DIVISOR = 1.1;

/** The published tables the rows come from. */
export const TIRE_SOURCES = {
  goodyearStChart:
    'a tire maker’s ST load and inflation chart (Goodyear, RV inflation sheet), second-hand transcription',
  goodyearStAnchors:
    'a tire maker’s trailer tire load limits at 35, 50, 65 and 80 psi (Goodyear), printed in a boating magazine',
  trailerMakerArticle: 'a trailer maker’s tire and wheel replacement article',
  tireEngineerColumn: 'an RV tire engineer’s column quoting the maker’s maximum',
  michelinLtChart: 'a tire maker’s LT-metric chart (Michelin), reprinted in a 1990 motorhome manual',
  toyoSheets: 'a tire maker’s sizes and specifications sheets (Toyo)',
  gmBiasChart: 'a chassis maker’s bias tire chart (General Motors), reprinted in a 1990 motorhome manual',
} as const;

export type TireSource = keyof typeof TIRE_SOURCES;

/**
 * Sizes and load ranges that are sold with two different ratings, so that only the sidewall can say: ST235/85R16 G is found
 * at both 4,080 and 4,400 lb (owner reports).
 */
export const TWO_RATINGS: readonly string[] = ['ST235/80R16 G', 'ST235/85R16 G'];
