/** What the columns of a spreadsheet mean, as far as their headings tell. */

export const ROLES = [
  'date',
  'what',
  'part',
  'value',
  'reading',
  'temperature',
  'odometer',
  'tow-odometer',
  'cost',
  'by',
  'note',
] as const;

/**
 * What a column means. `what`: done or read, in words (`repacked axle 2`); `reading`: the heading itself names what is read
 * (`axle 1 left (psi)`), and several columns may be; every other role belongs to one column. `odometer` is the trailer's, or of the
 * vehicle that was worked on.
 */
export type ColumnRole = (typeof ROLES)[number];

const ODOMETER = /\b(odo(meter)?|mileage|miles|km|kilomet(er|re)s)\b/i;
const TOW = /\b(tow|truck|pickup|car|suv)\b/i;
const VALUE = /\b(value|reading|pressures?|psi|kpa|bar|volts?|voltage|depth)\b/i;
/** Words that do not say on what something was read. */
const ANY_PART = /\b(tires?|tyres?|cold|air|actual|measured|the|of|in|at)\b/gi;
const PLACE = /\b([lr][fr]|axle \d|(front|rear|left|right)[ ,-]+(front|rear|left|right)|spare|hour ?meter)\b/i;
/** What is still to come is no record; trips and fuel have no place in one line of work. */
const AHEAD = /\b(next|due|expires?|planned|trip|driven|gallons|litres|liters)\b/i;

/** The unit that a heading gives: `Pressure (psi)`, `Odometer [km]`, `Truck miles`. */
export function unitIn(heading: string): string | undefined {
  const found =
    /[([]\s*([^)\]]+?)\s*[)\]]/.exec(heading)?.[1] ?? /\b(psi|kpa|bar|miles|mi|km|volts?|hours)\b/i.exec(heading)?.[1];
  const unit = found?.toLowerCase();
  if (unit === 'hours' || /\bhour ?meter\b/i.test(heading)) return 'h';
  if (unit === undefined || unit === '$') return undefined;
  if (unit === 'miles') return 'mi';
  return /^volts?$/.test(unit) ? 'V' : found;
}

/** A heading without its unit: what a column of readings is read on. */
export function wordsIn(heading: string): string {
  return heading
    .replace(/[([][^)\]]*[)\]]/g, ' ')
    .replace(/\b(psi|kpa|bar|volts?)\b/gi, ' ')
    .replace(/\bhour ?meter\b/i, 'generator hours')
    .replace(/\s+/g, ' ')
    .trim();
}

const isReading = (heading: string): boolean => {
  if (PLACE.test(heading)) return true;
  const unit = unitIn(heading);
  if (unit === undefined || !/^(psi|kpa|bar|v|h|a|mm)$/i.test(unit)) return false;
  return wordsIn(heading).replace(new RegExp(VALUE, 'gi'), ' ').replace(ANY_PART, ' ').trim() !== '';
};

/** In the order in which they are looked for: what a column costs outranks what was done, `Job notes` are notes. */
const RULES: readonly (readonly [ColumnRole, (heading: string) => boolean])[] = [
  ['date', (heading) => /\b(date|day|when|datum|fecha)\b/i.test(heading)],
  ['cost', (heading) => /\b(total|cost|paid|amount)\b/i.test(heading)],
  ['cost', (heading) => /\b(price|usd)\b|\$/i.test(heading) && !/\bper\b|\//i.test(heading)],
  ['note', (heading) => /\b(notes?|remarks?|comments?|memo)\b/i.test(heading)],
  ['by', (heading) => /\b(by|who|mechanic)\b/i.test(heading)],
  ['tow-odometer', (heading) => ODOMETER.test(heading) && TOW.test(heading)],
  ['odometer', (heading) => ODOMETER.test(heading)],
  ['temperature', (heading) => /\btemp(erature)?\b/i.test(heading)],
  ['reading', isReading],
  ['value', (heading) => VALUE.test(heading)],
  ['part', (heading) => /\b(part|component|where|place|tire|tyre)\b/i.test(heading)],
  ['what', (heading) => /\b(what|job|work|service|task|description|done|item|entry)\b/i.test(heading)],
];

/** What the owner says of the columns, where they say anything. */
export interface SaidOfColumns {
  /** By column; undefined where nothing is said. */
  readonly roles?: readonly (ColumnRole | '' | undefined)[];
  /** Roles that no column has. */
  readonly without?: readonly ColumnRole[];
}

/** The role of each column, the owner's word before the heading's; `''` where it means nothing. */
export function rolesOf(headings: readonly string[], said: SaidOfColumns = {}): (ColumnRole | '')[] {
  const roles = headings.map((_, index) => said.roles?.[index]);
  for (const [role, fits] of RULES) {
    if (said.without?.includes(role)) continue;
    for (const [index, heading] of headings.entries()) {
      if (roles[index] !== undefined || (role !== 'reading' && roles.includes(role))) continue;
      if (!AHEAD.test(heading) && fits(heading)) roles[index] = role;
    }
  }
  return roles.map((role) => role ?? '');
}
