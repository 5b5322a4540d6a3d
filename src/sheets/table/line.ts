/** One line of a spreadsheet as entries: words are understood as a sentence is, figures come from their own columns. */
import type { Catalog } from '../../catalog/index.ts';
import { formatDate } from '../../dates/index.ts';
import {
  type Draft,
  partOf,
  type RigState,
  type Understood,
  understand,
  type VehicleRole,
} from '../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { formatQuantity, parseQuantity, type Quantity } from '../../quantity/index.ts';
import { DATE_ORDER_NAMES, dateIn } from './days.ts';
import type { Mapping } from './mapping.ts';
import { plainNumber } from './numbers.ts';
import type { Table } from './read.ts';
import { type ColumnRole, wordsIn } from './roles.ts';

export interface About {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly today: string;
}

/** What a line would write, and it in words. */
export interface LineRead {
  readonly drafts: readonly Draft[];
  readonly said: string;
}

/** What the cells of one line say, each in its kind. */
interface Line {
  readonly on: string;
  readonly where: string;
  readonly what: string;
  readonly value: string;
  readonly readings: readonly { readonly words: string; readonly value: string; readonly column: string }[];
  readonly temperature: string;
  readonly odometer: Quantity | undefined;
  readonly towOdometer: Quantity | undefined;
  readonly cost: number | undefined;
  readonly by: string;
  readonly note: string;
}

/**
 * The entries that a line makes: work with its odometer, cost, hands and note; readings, each with its own words; an odometer.
 * What has no place in an entry stands in its note; where there is no note either, the line is refused: nothing is lost.
 *
 * Problems, by line: `table.date`, `table.future`, `table.blank`, `table.number`, `table.cost`, `table.odometer-twice`,
 * `table.no-place`, `quantity.*`, and those of sentences.
 */
export function readLine(
  table: Table,
  line: number,
  cells: readonly string[],
  mapping: Mapping,
  about: About,
): Result<LineRead> {
  const said = cellsOf(table, line, cells, mapping, about.today);
  if (!said.ok) return said;
  const read: Understood[] = [];
  const problems: Problem[] = [];
  const here = { ...about, today: said.value.on, ...(said.value.by ? { by: said.value.by } : {}) };
  const { what, value, where, temperature } = said.value;
  const take = (text: string, place: string): void => {
    const one = sentence(text, temperature, here);
    if (one.ok) read.push(one.value);
    else problems.push(...one.problems.map((problem) => within(problem, place)));
  };
  const only = isOdometerOnly(said.value);
  if (what !== '' && !only) take([what, value].filter(Boolean).join(' '), where);
  for (const one of said.value.readings) take(`${one.words} ${one.value}`, `${where}, column “${one.column}”`);
  const [first, ...more] = problems;
  if (first) return fail(first, ...more);
  const air = temperature === '' || read.some(isOfGauges) ? '' : `air ${temperature}`;
  return laid(read, { ...said.value, note: joined(said.value.note, only ? what : '', air) }, about);
}

const isOfGauges = ({ drafts }: Understood): boolean =>
  drafts.every((draft) => draft.kind === 'reading' && draft.body.part !== undefined);

/** Words that go with an odometer without saying more: a stop for fuel, the odometer by its own name. */
const STOPS =
  /^(fuel|gas|gasoline|diesel|fuel(l?ed)?( up)?|(gas|fuel) stop|fill(ed)?[ -]?up|refuel(l?ed|l?ing)?|odo(meter)?( reading)?|mileage|trip start|trip end)$/i;

const isOdometerOnly = ({ what, value, odometer, towOdometer }: Line): boolean =>
  STOPS.test(what) && value === '' && (odometer ?? towOdometer) !== undefined;

/** With the air temperature where gauges were read. A remark in brackets becomes the note where the rest alone is understood. */
function sentence(text: string, temperature: string, about: Parameters<typeof understand>[1]): Result<Understood> {
  const jobs = text.replace(/\s*\r?\n\s*|\s+[/+&•]\s+/g, ', ').replace(/^[-•*]\s*/, '');
  const alone = understand(jobs, about);
  const ofGauges = temperature !== '' && alone.ok && isOfGauges(alone.value);
  const whole = ofGauges ? understand(`${jobs}, ${temperature}`, about) : alone;
  if (whole.ok || !/\(.*\)/.test(jobs)) return whole;
  const remarks = [...jobs.matchAll(/\(([^)]*)\)/g)].map(([, remark]) => remark).join('; ');
  const rest = understand(`${jobs.replace(/\s*\([^)]*\)/g, '')} - ${remarks}`, about);
  return rest.ok ? rest : whole;
}

/** A cell left empty, also by a dash or `n/a`. */
const isBlank = (cell: string): boolean => /^(?:[^\p{L}\p{N}]*|n\/?a|none)$/iu.test(cell);

function cellsOf(table: Table, line: number, cells: readonly string[], mapping: Mapping, today: string): Result<Line> {
  const where = `line ${line}`;
  const { roles, units, decimal, dateOrder } = mapping;
  const problems: Problem[] = [];
  const cell = (role: ColumnRole): string => cells[roles.indexOf(role)] ?? '';
  const number = (index: number): string => {
    const text = index < 0 ? '' : (cells[index] ?? '');
    const plain = plainNumber(text, decimal);
    if (plain === null) {
      const column = table.columns[index] || `column ${index + 1}`;
      problems.push({
        code: 'table.number',
        what: `“${text}” is no number with a decimal ${decimal === '.' ? 'point' : 'comma'}`,
        where: `${where}, column “${column}”`,
      });
    }
    const unit = units[index];
    return plain && unit && /\d/.test(plain) && !/[a-z°%$]/i.test(plain) ? `${plain} ${unit}` : (plain ?? '');
  };
  const odometer = (role: 'odometer' | 'tow-odometer'): Quantity | undefined => {
    const text = number(roles.indexOf(role));
    if (isBlank(text)) return undefined;
    const read = parseQuantity(text, 'length');
    if (read.ok) return read.value;
    problems.push(...read.problems.map((problem) => within(problem, `${where}, odometer`)));
    return undefined;
  };
  const on = dayOf(cell('date'), dateOrder, today, where);
  if (typeof on !== 'string') problems.push(on);
  const cost = costOf(number(roles.indexOf('cost')), cell('cost'), where);
  if (typeof cost === 'object') problems.push(cost);
  const columns = roles.flatMap((role, index) =>
    role === 'reading' && !isBlank(cells[index] ?? '')
      ? [{ column: table.columns[index] ?? '', value: number(index) }]
      : [],
  );
  const readings = columns
    .filter(({ value }) => /\d/.test(value))
    .map(({ column, value }) => ({ column, value, words: wordsIn(column) }));
  // A word instead of a figure is a remark: `flat`.
  const remarks = columns.filter(({ value }) => !/\d/.test(value)).map(({ column, value }) => `${column}: ${value}`);
  const read = {
    where,
    what: [cell('part'), cell('what')].filter(Boolean).join(' '),
    value: isBlank(cell('value')) ? '' : number(roles.indexOf('value')),
    readings,
    temperature: isBlank(cell('temperature')) ? '' : number(roles.indexOf('temperature')),
    odometer: odometer('odometer'),
    towOdometer: odometer('tow-odometer'),
    by: cell('by'),
    note: joined(cell('note'), ...remarks),
  };
  const [first, ...more] = problems;
  if (first) return fail(first, ...more);
  if (read.what === '' && readings.length === 0 && read.odometer === undefined && read.towOdometer === undefined)
    return fail({ code: 'table.blank', what: 'The line says neither what was done nor what was read', where });
  return ok({ ...read, on: on as string, cost: cost as number | undefined });
}

function dayOf(text: string, order: Mapping['dateOrder'], today: string, where: string): string | Problem {
  const day = dateIn(text, order);
  const expected = `a day written ${DATE_ORDER_NAMES[order]}, or with the month as an English word`;
  if (day === null)
    return { code: 'table.date', what: text ? `“${text}” is not a day` : 'No day is given', where, expected };
  if (day <= today) return day;
  return { code: 'table.future', what: `${day} is in the future`, where, expected: `a day up to ${today}` };
}

function costOf(plain: string, text: string, where: string): number | undefined | Problem {
  if (isBlank(text)) return undefined;
  const read = parseQuantity(`$${plain.replace(/^\s*(\$|USD)\s*|\s*(\$|USD)\s*$/gi, '')}`, 'money');
  if (read.ok && read.value.value >= 0) return read.value.value;
  return {
    code: 'table.cost',
    what: `“${text}” is not an amount of dollars`,
    where,
    expected: 'a number of 0 or more',
  };
}

/** Kinds of entries that have a place for what was paid, and for a note. */
const PAID: readonly Draft['kind'][] = ['work', 'carry', 'paper'];
const NOTED: readonly Draft['kind'][] = [...PAID, 'reading', 'drill', 'trip-done'];

/** Where the figures of their own columns belong: into the work; else an odometer is a reading, and the rest goes into a note. */
function laid(read: readonly Understood[], line: Line, about: About): Result<LineRead> {
  const drafts = read.flatMap((one) => one.drafts);
  const main = drafts.find(({ kind }) => PAID.includes(kind));
  const odometers = odometersOf(line, main, about);
  const body: Record<string, unknown> = { ...main?.body };
  const twice = (key: string, value: unknown): boolean => body[key] !== undefined && body[key] !== value;
  const problem = (which: string): Result<never> =>
    fail({
      code: `table.${which}-twice`,
      what: `The words give one ${which}, and its own column another`,
      where: line.where,
      next: 'Take one of them out.',
    });
  const remarks = [line.note];
  if (main?.kind === 'work') {
    if (odometers.length > 0 && (main.body.odometer ?? main.body.odometerTow) !== undefined) return problem('odometer');
    for (const [vehicle, value] of odometers) body[vehicle === 'tow' ? 'odometerTow' : 'odometer'] = value;
    if (line.by) body.doneBy = line.by;
  } else if (line.by) remarks.push(`by ${line.by}`);
  if (line.cost !== undefined) {
    if (main && twice('cost', line.cost)) return problem('cost');
    if (main) body.cost = line.cost;
    else remarks.push(dollars(line.cost));
  }
  const whole = [
    ...drafts.map((draft) => (draft === main ? ({ ...draft, body } as Draft) : draft)),
    ...(main?.kind === 'work' ? [] : odometers.map(([vehicle, value]) => odometerReading(line.on, vehicle, value))),
  ];
  const noted = withNote(whole, joined(...remarks), line.where);
  if (!noted.ok) return noted;
  const shown = odometers.map(
    ([vehicle, value]) => `${vehicle === 'tow' ? 'tow vehicle' : 'trailer'} at ${formatQuantity(value, { digits: 1 })}`,
  );
  const notes = noted.value.flatMap(({ body: of }) => ('note' in of && of.note ? [`note: ${of.note}`] : []));
  const more = [
    ...shown,
    main && line.cost !== undefined ? dollars(line.cost) : '',
    main?.kind === 'work' && line.by ? `by ${line.by}` : '',
    ...notes,
  ].filter(Boolean);
  const alone = read.length === 0 ? `Read on ${formatDate(line.on)}: ` : '';
  const told = more.length ? `${alone}${more.join('; ')}.` : '';
  const sentences = [...read.map((one) => one.understood), `${told.charAt(0).toUpperCase()}${told.slice(1)}`];
  return ok({ drafts: noted.value, said: sentences.filter(Boolean).join(' ') });
}

const dollars = (amount: number): string => `$${amount.toFixed(2)}`;

/** The note goes onto the first entry that has room for one. */
function withNote(drafts: readonly Draft[], remark: string, where: string): Result<readonly Draft[]> {
  if (remark === '') return ok(drafts);
  const at = drafts.findIndex(({ kind }) => NOTED.includes(kind));
  if (at < 0) {
    return fail({
      code: 'table.no-place',
      what: `“${remark}” has no place in what the rest of the line says`,
      where,
      next: 'Take it out of the line, or write this line down by hand.',
    });
  }
  return ok(
    drafts.map((draft, index) => {
      if (index !== at) return draft;
      const before = 'note' in draft.body ? (draft.body.note ?? '') : '';
      return { ...draft, body: { ...draft.body, note: joined(before, remark) } } as Draft;
    }),
  );
}

/** An odometer column that names no vehicle is of the vehicle worked on; of the trailer where nothing tells. */
function odometersOf(
  line: Line,
  work: Draft | undefined,
  { state, catalog }: About,
): (readonly [VehicleRole, Quantity])[] {
  const ofTow = (id: string): boolean => {
    const part = partOf(state, id);
    return (part?.vehicle ?? catalog.partKinds.get(part?.kind ?? '')?.vehicle) === 'tow';
  };
  const tow =
    work?.kind === 'work' && line.towOdometer === undefined && work.body.done.every(({ part }) => ofTow(part));
  return [
    ...(line.odometer ? [[tow ? 'tow' : 'trailer', line.odometer] as const] : []),
    ...(line.towOdometer ? [['tow', line.towOdometer] as const] : []),
  ];
}

const odometerReading = (on: string, vehicle: VehicleRole, value: Quantity): Draft => ({
  kind: 'reading',
  on,
  body: { vehicle, what: 'odometer', value },
});

const joined = (...texts: readonly string[]): string => texts.filter(Boolean).join('; ');

const within = (problem: Problem, where: string): Problem => ({
  ...problem,
  where: problem.where ? `${where}, ${problem.where}` : where,
});
