/** What a table means as a whole: as its heading and cells tell, and as the owner says. What neither tells is asked. */
import { type CellAt, DATE_ORDER_NAMES, type DateOrder, dateOrderOf } from './days.ts';
import { type Decimal, decimalOf } from './numbers.ts';
import type { Table } from './read.ts';
import { type ColumnRole, rolesOf, type SaidOfColumns, unitIn } from './roles.ts';

/** How the cells of each line are read. Everything by column stands in the order of the table's columns. */
export interface Mapping {
  readonly roles: readonly (ColumnRole | '')[];
  /** Units for cells that give none. */
  readonly units: readonly (string | undefined)[];
  readonly dateOrder: DateOrder;
  readonly decimal: Decimal;
}

/** The owner's answers; undefined where they have not said. */
export interface Answers extends SaidOfColumns {
  readonly dateOrder?: DateOrder | undefined;
  readonly decimal?: Decimal | undefined;
  readonly odometerUnit?: 'mi' | 'km' | undefined;
  readonly readingUnit?: 'psi' | 'kPa' | 'bar' | undefined;
}

export type QuestionAbout = 'date column' | 'date order' | 'decimal' | 'odometer unit' | 'reading unit';

/** What only the owner can say. One that is answered stays a question, so that the answer can be changed. */
export interface Question {
  readonly about: QuestionAbout;
  readonly text: string;
  /** What may be answered, and what it means. */
  readonly choices: readonly (readonly [value: string, meaning: string])[];
  readonly answered: boolean;
}

export interface Mapped {
  readonly roles: readonly (ColumnRole | '')[];
  readonly questions: readonly Question[];
  /** Null while a question is open. */
  readonly mapping: Mapping | null;
}

const ODOMETERS: readonly (ColumnRole | '')[] = ['odometer', 'tow-odometer'];
const NUMBERS: readonly (ColumnRole | '')[] = [...ODOMETERS, 'value', 'reading', 'temperature', 'cost'];

/** Maps a table, the owner's answers laid over what it says of itself. Nothing is guessed. */
export function mapTable(table: Table, said: Answers = {}): Mapped {
  const roles = rolesOf(table.columns, said);
  const cellsOf = (wanted: readonly (ColumnRole | '')[]): CellAt[] =>
    roles.flatMap((role, index) =>
      wanted.includes(role)
        ? table.rows.flatMap(({ line, cells }) => (cells[index] ? [{ line, cell: cells[index] }] : []))
        : [],
    );
  const inOrder = (cells: CellAt[]): CellAt[] => cells.sort((a, b) => a.line - b.line);
  const order = dateOrderOf(cellsOf(['date']));
  const decimal = decimalOf(inOrder(cellsOf(NUMBERS)));
  const given = units(table, roles);
  const questions: Question[] = [];
  if (!roles.includes('date')) {
    const text = `Which column holds the day? There are: ${table.columns.filter(Boolean).join(', ')}.`;
    questions.push({ about: 'date column', text, choices: [], answered: false });
  }
  if (order.order === null) {
    const choices = order.between.map((one) => [one, DATE_ORDER_NAMES[one]] as const);
    questions.push({ about: 'date order', text: order.text, choices, answered: said.dateOrder !== undefined });
  }
  if (decimal.decimal === null)
    questions.push({ about: 'decimal', text: decimal.text, choices: SIGNS, answered: said.decimal !== undefined });
  const bare = (of: readonly ColumnRole[]): readonly string[] =>
    table.columns.filter(
      (_, index) =>
        of.includes(roles[index] as ColumnRole) &&
        given[index] === undefined &&
        table.rows.some(({ cells }) => /\d/.test(cells[index] ?? '') && !/[a-z°%]/i.test(cells[index] ?? '')),
    );
  const bareOdometers = bare(['odometer', 'tow-odometer']);
  if (bareOdometers.length > 0) {
    const text = `Does ${bareOdometers.join(' and ')} show miles or kilometers?`;
    const answered = said.odometerUnit !== undefined;
    questions.push({ about: 'odometer unit', text, choices: DISTANCES, answered });
  }
  const bareReadings = bare(['reading']);
  if (bareReadings.length > 0) {
    const text = `In what unit are ${bareReadings.join(', ')}?`;
    questions.push({ about: 'reading unit', text, choices: PRESSURES, answered: said.readingUnit !== undefined });
  }
  if (questions.some(({ answered }) => !answered)) return { roles, questions, mapping: null };
  const unitOf = (role: ColumnRole | ''): string | undefined =>
    ODOMETERS.includes(role) ? said.odometerUnit : role === 'reading' ? said.readingUnit : undefined;
  return {
    roles,
    questions,
    mapping: {
      roles,
      units: roles.map((role, index) =>
        ODOMETERS.includes(role) ? (unitOf(role) ?? given[index]) : (given[index] ?? unitOf(role)),
      ),
      dateOrder: said.dateOrder ?? order.order ?? 'ymd',
      decimal: said.decimal ?? decimal.decimal ?? '.',
    },
  };
}

const SIGNS = [
  ['.', 'a point sets off decimals: 1,500 is fifteen hundred'],
  [',', 'a comma sets off decimals: 1,5 is one and a half'],
] as const;
const DISTANCES = [
  ['mi', 'miles'],
  ['km', 'kilometers'],
] as const;
const PRESSURES = [
  ['psi', 'psi'],
  ['kPa', 'kilopascals'],
  ['bar', 'bar'],
] as const;

/** The units of the headings, of the columns that hold numbers. */
const units = (table: Table, roles: readonly (ColumnRole | '')[]): (string | undefined)[] =>
  table.columns.map((heading, index) =>
    NUMBERS.includes(roles[index]!) && roles[index] !== 'cost' ? unitIn(heading) : undefined,
  );
