/** The owner's word on a spreadsheet, as options of the command line. */
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  type Answers,
  type ColumnRole,
  DATE_ORDERS,
  DECIMALS,
  type Mapping,
  mapTable,
  type QuestionAbout,
  ROLES,
  type Table,
} from '../sheets/index.ts';

/** The owner's answers, as options. */
export interface MappingOptions {
  readonly dateOrder?: string;
  readonly decimal?: string;
  readonly odometerUnit?: string;
  readonly readingUnit?: string;
  /** `ROLE=NAME`, or `ROLE=-` for none. */
  readonly column?: readonly string[];
  /** `5,9-12`. */
  readonly leaveOut?: string;
}

const ODOMETER_UNITS = ['mi', 'km'] as const;
const READING_UNITS = ['psi', 'kPa', 'bar'] as const;

/** Which option answers which question. */
const OPTIONS: Readonly<Record<QuestionAbout, string>> = {
  'date column': '--column date=NAME',
  'date order': '--date-order',
  decimal: '--decimal',
  'odometer unit': '--odometer-unit',
  'reading unit': '--reading-unit',
};

/**
 * Maps a table. Nothing is guessed: what neither the table nor the owner tells is a Problem with the option that answers it.
 *
 * Problems: `cli.column` (an option that names no role or no column), `cli.mapping-option`, `cli.mapping-open` (one a question).
 */
export function mappingOf(table: Table, options: MappingOptions): Result<Mapping> {
  const said = answersOf(table, options);
  if (!said.ok) return said;
  const { mapping, questions } = mapTable(table, said.value);
  const open = questions.flatMap(({ about, text, choices, answered }): Problem[] => {
    const option = OPTIONS[about];
    const expected = choices.map(([value, meaning]) => `${option} ${value} (${meaning})`).join(', or ') || option;
    return answered ? [] : [{ code: 'cli.mapping-open', what: text.replace(/[.?]$/, ''), where: about, expected }];
  });
  const [first, ...more] = open;
  if (first) return fail(first, ...more);
  if (!mapping) throw new Error('invariant: a table with no question open has a mapping');
  return ok(mapping);
}

function answersOf(table: Table, options: MappingOptions): Result<Answers> {
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
    ...columnsSaid(table, options.column ?? [], problems),
    dateOrder: one(options.dateOrder, DATE_ORDERS, '--date-order'),
    decimal: one(options.decimal, DECIMALS, '--decimal'),
    odometerUnit: one(options.odometerUnit, ODOMETER_UNITS, '--odometer-unit'),
    readingUnit: one(options.readingUnit, READING_UNITS, '--reading-unit'),
  };
  const [first, ...more] = problems;
  return first ? fail(first, ...more) : ok(answers);
}

function columnsSaid(table: Table, texts: readonly string[], problems: Problem[]): Pick<Answers, 'roles' | 'without'> {
  const roles: (ColumnRole | undefined)[] = table.columns.map(() => undefined);
  const without: ColumnRole[] = [];
  for (const text of texts) {
    const [, left, right] = /^([^=]*)=(.*)$/s.exec(text) ?? [text, '', ''];
    const role = ROLES.find((other) => other === left?.trim());
    const name = right?.trim() ?? '';
    const index = table.columns.findIndex((column) => column.toLowerCase() === name.toLowerCase());
    const where = `--column ${text}`;
    const say = (what: string, expected: string): void =>
      void problems.push({ code: 'cli.column', what, where, expected });
    if (!role) say('No role is named', `ROLE=NAME, the role one of ${ROLES.join(', ')}`);
    else if (name === '-' && role !== 'date') without.push(role);
    else if (index < 0 || name === '')
      say(
        `There is no column “${name}”`,
        `one of ${table.columns.join(', ')}${role === 'date' ? '' : '; or - for none'}`,
      );
    else if (roles[index]) say(`“${name}” has a role already`, 'one role a column');
    else if (role !== 'reading' && roles.includes(role))
      say(`Another column is the ${role} already`, 'one column a role');
    else roles[index] = role;
  }
  return { roles, without };
}

/** Lines left out knowingly: `5,9-12`. Problems: `cli.leave-out` (no such line below the heading). */
export function linesLeftOut(table: Table, text: string | undefined): Result<number[]> {
  if (text === undefined) return ok([]);
  const lines = table.rows.map(({ line }) => line);
  const where = `--leave-out ${text}`;
  const left: number[] = [];
  for (const piece of text.split(',')) {
    const [, from, to = from] = /^\s*(\d+)(?:-(\d+))?\s*$/.exec(piece) ?? [];
    const named = lines.filter((line) => line >= Number(from) && line <= Number(to));
    if (from === undefined || named.length === 0) {
      const what = `“${piece.trim()}” names no line below the heading`;
      return fail({ code: 'cli.leave-out', what, where, expected: 'lines as the preview counts them: 5,9-12' });
    }
    left.push(...named);
  }
  return ok(left);
}
