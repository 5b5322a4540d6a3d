/** What the columns of a spreadsheet mean: as its heading and cells tell, and as the owner says. */
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  type ColumnRole,
  type DateOrder,
  type Decimal,
  type Mapping,
  proposeMapping,
  type Table,
} from '../sheets/index.ts';

/** The owner's answers, as options. */
export interface MappingOptions {
  readonly dateOrder?: string;
  readonly decimal?: string;
  readonly odometerUnit?: string;
  /** `ROLE=NAME`, or `ROLE=-` for none. */
  readonly column?: readonly string[];
}

/** A table whose columns the mapping speaks of, which need not stand in the order of the file. */
export interface Mapped {
  readonly table: Table;
  readonly mapping: Mapping;
  /** The columns' names as in the file, by role. */
  readonly names: Partial<Record<ColumnRole, string>>;
  /** Columns that mean nothing here. */
  readonly leftOut: readonly string[];
}

export const ROLES = [
  'date',
  'what',
  'part',
  'value',
  'odometer',
  'cost',
  'note',
] as const satisfies readonly ColumnRole[];
const DATE_ORDERS = ['ymd', 'dmy', 'mdy'] as const satisfies readonly DateOrder[];
const DECIMALS = ['.', ','] as const satisfies readonly Decimal[];
const ODOMETER_UNITS = ['mi', 'km'] as const;

/** Which option answers which question. */
const ANSWERS = {
  'date column': '--column date=NAME',
  'date order': '--date-order dmy, or --date-order mdy',
  decimal: '--decimal . where commas set off thousands, --decimal , where they set off decimals',
  'odometer unit': '--odometer-unit mi, or --odometer-unit km',
} as const;

/**
 * Maps a table. Nothing is guessed: what neither the table nor the owner tells is a Problem with the option that answers it.
 *
 * Problems: `cli.column` (an option that names no role or no column), `cli.mapping-option`, `cli.mapping-open` (one a question).
 */
export function mapTable(table: Table, options: MappingOptions): Result<Mapped> {
  const read = answersOf(options);
  if (!read.ok) return read;
  const said = columnsSaid(table, options.column ?? []);
  if (!said.ok) return said;
  const arranged = arrange(table, said.value);
  const { mapping, questions } = proposeMapping(arranged.table);
  const { dateOrder, decimal, odometerUnit } = read.value;
  const answered = { 'date column': false, 'date order': dateOrder, decimal, 'odometer unit': odometerUnit };
  const open = questions.filter(({ about }) => !answered[about]);
  const [first, ...more] = open.map(
    ({ about, text }): Problem => ({
      code: 'cli.mapping-open',
      what: text.replace(/[.?]$/, ''),
      where: about,
      expected: ANSWERS[about],
    }),
  );
  if (first) return fail(first, ...more);
  if (!mapping) throw new Error('invariant: a table with no question open has a mapping');
  const entries = Object.entries(mapping.columns) as [ColumnRole, number][];
  const names = Object.fromEntries(entries.map(([role, index]) => [role, arranged.names[index]!]));
  return ok({
    table: arranged.table,
    mapping: {
      columns: mapping.columns,
      dateOrder: dateOrder ?? mapping.dateOrder,
      decimal: decimal ?? mapping.decimal,
      units: { ...mapping.units, ...(odometerUnit ? { odometer: odometerUnit } : {}) },
    },
    names,
    leftOut: arranged.names.filter((_, index) => !entries.some(([, taken]) => taken === index)),
  });
}

interface Answers {
  readonly dateOrder: DateOrder | undefined;
  readonly decimal: Decimal | undefined;
  readonly odometerUnit: 'mi' | 'km' | undefined;
}

function answersOf(options: MappingOptions): Result<Answers> {
  const problems: Problem[] = [];
  const one = <T extends string>(text: string | undefined, of: readonly T[], where: string): T | undefined => {
    const found = of.find((value) => value === text);
    if (text !== undefined && !found)
      problems.push({
        code: 'cli.mapping-option',
        what: `“${text}” is not an answer`,
        where,
        expected: of.join(' or '),
      });
    return found;
  };
  const answers = {
    dateOrder: one(options.dateOrder, DATE_ORDERS, '--date-order'),
    decimal: one(options.decimal, DECIMALS, '--decimal'),
    odometerUnit: one(options.odometerUnit, ODOMETER_UNITS, '--odometer-unit'),
  };
  const [first, ...more] = problems;
  return first ? fail(first, ...more) : ok(answers);
}

/** Columns by role as the owner says; null where a role has none. */
type Said = ReadonlyMap<ColumnRole, number | null>;

function columnsSaid(table: Table, texts: readonly string[]): Result<Said> {
  const said = new Map<ColumnRole, number | null>();
  const problems: Problem[] = [];
  for (const text of texts) {
    const [, left, right] = /^([^=]*)=(.*)$/s.exec(text) ?? [text, '', ''];
    const role = ROLES.find((one) => one === left?.trim());
    const name = right?.trim() ?? '';
    const index = table.columns.findIndex((column) => column.toLowerCase() === name.toLowerCase());
    const where = `--column ${text}`;
    if (!role)
      problems.push({
        code: 'cli.column',
        what: 'No role is named',
        where,
        expected: `ROLE=NAME, the role one of ${ROLES.join(', ')}`,
      });
    else if (name === '-' && role !== 'date') said.set(role, null);
    else if (index < 0)
      problems.push({
        code: 'cli.column',
        what: `There is no column “${name}”`,
        where,
        expected: `one of ${table.columns.join(', ')}${role === 'date' ? '' : '; or - for none'}`,
      });
    else if ([...said.values()].includes(index))
      problems.push({ code: 'cli.column', what: `“${name}” has a role already`, where, expected: 'one role a column' });
    else said.set(role, index);
  }
  const [first, ...more] = problems;
  return first ? fail(first, ...more) : ok(said);
}

/**
 * The table as a heading that says what the owner said: their columns first, under the names of their roles, their units kept;
 * then what is left, without the headings of roles that shall have none. So the table's own questions are still asked of it.
 */
function arrange(table: Table, said: Said): { table: Table; names: readonly string[] } {
  const mine = [...said].flatMap(([role, index]) => (index === null ? [] : [{ role, index }]));
  const others = table.columns.flatMap((_, index) => (mine.some((one) => one.index === index) ? [] : [index]));
  const order = [...mine.map(({ index }) => index), ...others];
  const headings = [
    ...mine.map(({ role, index }) => `${role}${unitOf(table.columns[index]!)}`),
    ...others.map((index) => table.columns[index]!),
  ];
  const rows = table.rows.map(({ line, cells }) => ({ line, cells: order.map((index) => cells[index] ?? '') }));
  for (const [role, index] of said) {
    if (index !== null) continue;
    for (let found = proposeMapping({ ...table, columns: headings, rows }).found[role]; found !== undefined; ) {
      headings[found] = '';
      found = proposeMapping({ ...table, columns: headings, rows }).found[role];
    }
  }
  return { table: { ...table, columns: headings, rows }, names: order.map((index) => table.columns[index]!) };
}

/** ` (km)` where a heading gives a unit, bracketed or bare. */
function unitOf(heading: string): string {
  const unit =
    /[([]\s*([^)\]]+?)\s*[)\]]/.exec(heading)?.[1] ?? /\b(psi|kpa|bar|miles|mi|km|volts?)\b/i.exec(heading)?.[1];
  return unit === undefined ? '' : ` (${unit.toLowerCase() === 'miles' ? 'mi' : unit})`;
}
