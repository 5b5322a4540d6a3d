import Papa from 'papaparse';
import { fail, ok, type Result } from '../problem/index.ts';

/** A spreadsheet as text cells under a heading. */
export interface Table {
  readonly delimiter: string;
  readonly columns: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** Which of three orders day, month and year stand in. */
export type DateOrder = 'ymd' | 'dmy' | 'mdy';
export type Decimal = '.' | ',';

/** What each column means, by its index; what is not named is left out. */
export interface Mapping {
  readonly columns: {
    readonly date: number;
    /** What was done or read, in words: `repacked axle 2`. */
    readonly what?: number;
    readonly part?: number;
    readonly value?: number;
    readonly odometer?: number;
    readonly cost?: number;
    readonly note?: number;
  };
  readonly dateOrder: DateOrder;
  readonly decimal: Decimal;
  /** Units for cells that give none, from the heading or the owner. */
  readonly units: { readonly value?: string; readonly odometer?: string };
}

export type ColumnRole = keyof Mapping['columns'];

/** A mapping as far as the table tells it, and what only the owner can say. */
export interface Proposal {
  readonly mapping: Mapping | null;
  /** Roles found in the heading, also where no mapping could be made. */
  readonly found: Partial<Record<ColumnRole, number>>;
  readonly questions: readonly {
    readonly about: 'date column' | 'date order' | 'decimal' | 'odometer unit';
    readonly text: string;
  }[];
}

/**
 * CSV text as a table; the delimiter (comma, semicolon, tab) is found out.
 *
 * Problems: `table.empty`, `table.torn` (a quote that is never closed, by line).
 */
export function readTable(text: string): Result<Table> {
  const plain = text.replace(/^\uFEFF/, '');
  const { data, errors, meta } = Papa.parse<string[]>(plain, {
    skipEmptyLines: 'greedy',
    delimitersToGuess: [',', ';', '\t'],
  });
  const torn = errors.find((error) => error.type === 'Quotes');
  if (torn) {
    return fail({
      code: 'table.torn',
      what: 'A quotation mark is opened and not closed',
      where: `line ${(torn.row ?? 0) + 1}`,
      expected: 'a file saved as CSV',
    });
  }
  const [heading, ...rows] = data;
  if (!heading || rows.length === 0) {
    return fail({
      code: 'table.empty',
      what: 'There is nothing below the heading',
      expected: 'a heading line, then one line an entry',
    });
  }
  return ok({
    delimiter: meta.delimiter,
    columns: heading.map((name) => name.trim()),
    rows: rows.map((cells, i) => ({ line: i + 2, cells: cells.map((cell) => cell.trim()) })),
  });
}

const ROLE_WORDS: Readonly<Record<ColumnRole, RegExp>> = {
  date: /\b(date|day|when|datum|fecha)\b/i,
  odometer: /\b(odo(meter)?|mileage|miles|km|kilomet(er|re)s)\b/i,
  what: /\b(what|job|work|service|task|description|done|item|entry)\b/i,
  part: /\b(part|component|where|place|tire|tyre)\b/i,
  value: /\b(value|reading|pressure|psi|kpa|bar|volts?|voltage|depth)\b/i,
  cost: /\b(cost|price|paid|amount|usd)\b|\$/i,
  note: /\b(notes?|remarks?|comments?)\b/i,
};

/** What the heading and the cells say of themselves. What stays open is asked. */
export function proposeMapping(table: Table): Proposal {
  const found: Partial<Record<ColumnRole, number>> = {};
  const taken = new Set<number>();
  for (const [role, words] of Object.entries(ROLE_WORDS) as [ColumnRole, RegExp][]) {
    const index = table.columns.findIndex((name, i) => !taken.has(i) && words.test(name));
    if (index < 0) continue;
    found[role] = index;
    taken.add(index);
  }
  const questions: Proposal['questions'][number][] = [];
  if (found.date === undefined) {
    questions.push({
      about: 'date column',
      text: `Which column holds the day? There are: ${table.columns.join(', ')}.`,
    });
    return { mapping: null, found, questions };
  }
  const cells = (role: ColumnRole): string[] =>
    table.rows.flatMap(({ cells: row }) => row[found[role] ?? -1] ?? []).filter(Boolean);
  const order = dateOrderOf(cells('date'));
  if (order === null)
    questions.push({
      about: 'date order',
      text: `Is ${cells('date')[0]} day/month or month/day? Both fit every line.`,
    });
  const decimal = decimalOf([...cells('value'), ...cells('odometer'), ...cells('cost')]);
  if (decimal === null)
    questions.push({
      about: 'decimal',
      text: 'Do commas in numbers set off thousands or decimals? Both fit every line.',
    });
  const units = {
    value: unitIn(table.columns[found.value ?? -1]),
    odometer: unitIn(table.columns[found.odometer ?? -1]),
  };
  const bare = cells('odometer').some((cell) => !/[a-z]/i.test(cell));
  if (found.odometer !== undefined && !units.odometer && bare)
    questions.push({ about: 'odometer unit', text: 'Does the odometer show miles or kilometers?' });
  return {
    mapping: {
      columns: { ...found, date: found.date },
      dateOrder: order ?? 'mdy',
      decimal: decimal ?? '.',
      units: {
        ...(units.value ? { value: units.value } : {}),
        ...(units.odometer ? { odometer: units.odometer } : {}),
      },
    },
    found,
    questions,
  };
}

/** The only order in which every date is one; null where two would do. */
function dateOrderOf(cells: readonly string[]): DateOrder | null {
  const fitting = (['ymd', 'dmy', 'mdy'] as const).filter((order) =>
    cells.every((cell) => dateIn(cell, order) !== null),
  );
  return fitting.length === 1 || (fitting.length > 1 && fitting[0] === 'ymd') ? fitting[0]! : null;
}

/** A date cell in a given order as `YYYY-MM-DD`, or null. Two-digit years are of this century. */
export function dateIn(cell: string, order: DateOrder): string | null {
  const numbers = /^(\d{1,4})[./\-\s](\d{1,2})[./\-\s](\d{1,4})$/.exec(cell.trim());
  if (!numbers) return null;
  const [, a, b, c] = numbers as unknown as [string, string, string, string];
  const [year, month, day] = order === 'ymd' ? [a, b, c] : order === 'dmy' ? [c, b, a] : [c, a, b];
  if (year.length !== 4 && year.length !== 2) return null;
  if (month.length > 2 || day.length > 2) return null;
  const y = year.length === 2 ? 2000 + Number(year) : Number(year);
  const [m, d] = [Number(month), Number(day)];
  const leap = (y % 4 === 0 && y % 100 !== 0) || y % 400 === 0;
  const length = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][m - 1];
  if (length === undefined || d < 1 || d > length) return null;
  return `${y}-${String(m).padStart(2, '0')}-${String(d).padStart(2, '0')}`;
}

/** Whether numbers are written with a decimal comma; null where nothing tells. */
function decimalOf(cells: readonly string[]): Decimal | null {
  const numbers = cells.flatMap((cell) => cell.match(/\d[\d.,\s]*/g) ?? []).map((number) => number.trim());
  if (!numbers.some((number) => number.includes(','))) return '.';
  if (numbers.some((number) => /,\d{1,2}$/.test(number) || /,\d{4,}$/.test(number) || /\.\d{3},/.test(number)))
    return ',';
  if (numbers.some((number) => /\.\d+$/.test(number) || /,\d{3},/.test(number))) return '.';
  return null;
}

/** A number cell with its unit left in place, rewritten with a point and without thousands. */
export function plainNumber(cell: string, decimal: Decimal): string {
  const thousands =
    decimal === ',' ? /(?<=\d)[.\s\u00a0\u202f'](?=\d{3}(\D|$))/g : /(?<=\d)[,\s\u00a0\u202f'](?=\d{3}(\D|$))/g;
  const joined = cell.replace(thousands, '');
  return decimal === ',' ? joined.replace(/(?<=\d),(?=\d)/g, '.') : joined;
}

/** `Pressure (psi)` and `Odometer [km]` give their unit. */
function unitIn(name: string | undefined): string | undefined {
  const bracketed = /[([]\s*([^)\]]+?)\s*[)\]]/.exec(name ?? '')?.[1];
  if (bracketed) return bracketed;
  const bare = /\b(psi|kpa|bar|miles|mi|km|volts?)\b/i.exec(name ?? '')?.[1]?.toLowerCase();
  return bare === 'miles' ? 'mi' : bare?.startsWith('volt') ? 'V' : bare;
}
