import {
  type CalculationField,
  calculation,
  calculations,
  inputFields,
  outputFields,
  runCalculation,
} from '../../../calculations/index.ts';
import { formatDate } from '../../../dates/index.ts';
import { type Entry, type PartState, partsOf, vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import { ok, type Result } from '../../../problem/index.ts';
import { formatQuantity, isUnitId, type Quantity, type System, valueIn } from '../../../quantity/index.ts';
import { LOAD_RANGE_PSI, LOAD_RANGES } from '../../../tires/index.ts';
import type { Keeper } from '../keeper.ts';
import { bodyOf, type Field, labelOf, unitChoices } from './form-fields.ts';
import { toldBy } from './told.ts';

export interface CalculationLine {
  readonly id: string;
  readonly title: string;
  readonly summary: string;
  readonly room: string;
}

export interface CalculationForm extends CalculationLine {
  readonly fields: readonly Field[];
  readonly formula: string;
  readonly range: string;
  readonly cautions: readonly string[];
  readonly sources: readonly string[];
}

/** One figure of an answer; `doubt`: between which bounds it lies, where the calculation says so. */
export interface AnswerRow {
  readonly name: string;
  readonly value: string;
  readonly doubt: string;
}

export interface CalculationAnswer {
  readonly rows: readonly AnswerRow[];
  /** What the bounds come from; empty where none are given. */
  readonly doubt: string;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

const line = ({ id, title, summary, room }: CalculationLine): CalculationLine => ({ id, title, summary, room });

export const calculationLines = (): CalculationLine[] => calculations.map(line);

/** The form of one calculation, filled from the rig where it knows. */
export function calculationForm(keeper: Keeper, id: string): CalculationForm | null {
  const found = calculation(id);
  if (!found) return null;
  const known = knownOf(keeper);
  return {
    ...line(found),
    fields: inputFields(found).flatMap((field) => formFields(field, '', '', toldBy(keeper).system, known)),
    formula: sentence(found.formula),
    range: sentence(found.range),
    cautions: found.cautions,
    sources: found.sources.map((source) => `${source.text} (${source.kind}${source.tag ? ', from memory' : ''})`),
  };
}

/** Lines of a list that a form offers; what stays empty is left out. */
const LIST_ROWS = 3;

function formFields(
  field: CalculationField,
  prefix: string,
  group: string,
  system: System,
  known: ReadonlyMap<string, Known>,
): Field[] {
  const path = prefix === '' ? field.name : `${prefix}.${field.name}`;
  const mine = known.get(path) ?? (group === '' ? known.get(field.name) : undefined);
  const base = {
    path,
    label: labelOf(field.name),
    group,
    required: field.required && group === '',
    value: mine?.value ?? '',
    help: [sentence(field.text), mine?.from ?? ''].filter((text) => text !== '' && text !== '.').join(' '),
  };
  switch (field.kind) {
    case 'group':
      return (field.fields ?? []).flatMap((inner) => formFields(inner, path, labelOf(field.name), system, known));
    case 'list':
      return Array.from({ length: LIST_ROWS }, (_, row) =>
        (field.fields ?? []).flatMap((inner) =>
          formFields(
            inner.name === '' ? { ...inner, name: String(row) } : inner,
            inner.name === '' ? path : `${path}.${row}`,
            `${labelOf(field.name)} ${row + 1}`,
            system,
            known,
          ),
        ),
      ).flat();
    case 'quantity': {
      const units = unitChoices(field.dimension!, system);
      return [{ ...base, type: 'quantity', units, unit: units[0]!.value }];
    }
    case 'choice':
      return [{ ...base, type: 'choice', choices: (field.choices ?? []).map((value) => ({ value, label: value })) }];
    case 'yes-no':
      return [{ ...base, type: 'check' }];
    case 'number':
      return [{ ...base, type: 'number' }];
    default:
      return [{ ...base, type: 'text' }];
  }
}

/** A value of the rig's own, and where it stands in the logbook. */
interface Known {
  readonly value: string;
  readonly from: string;
}

/** What the rig's own data can fill in, by field name. */
function knownOf(keeper: Keeper): ReadonlyMap<string, Known> {
  const known = new Map<string, Known>();
  const putFrom =
    (from: string) =>
    (name: string, value: unknown): void => {
      if (typeof value === 'string' || typeof value === 'number') known.set(name, { value: String(value), from });
      else if (isQuantity(value)) known.set(name, { value: formatQuantity(value), from });
    };
  const written = (what: string, entry: Entry | undefined): ReturnType<typeof putFrom> =>
    putFrom(entry ? `From ${what} of ${formatDate(entry.on, 'day')}, written by ${entry.by}.` : '');
  const tire: PartState | undefined = partsOf(keeper.state).find((part) => part.kind === 'tire');
  const label = written(tire?.place ? `the tire ${tire.place}` : 'the tire', tire?.fit);
  for (const name of ['size', 'loadRange']) label(name, tire?.facts[name]);
  const size = tire?.facts.size;
  if (typeof size === 'string') label('family', /^(ST|LT|P)/.exec(size)?.[1]);
  const most = tire?.facts.pressureColdMax;
  if (!known.has('loadRange') && isQuantity(most))
    label(
      'loadRange',
      LOAD_RANGES.find((range) => LOAD_RANGE_PSI[range] === Math.round(valueIn(most, 'psi'))),
    );
  const gauge = tire?.readings.get('pressure-cold')?.at(-1);
  for (const name of ['pressure', 'gauge']) written(`the gauge, ${tire?.place}`, gauge?.entry)(name, gauge?.value);
  const trailer = vehicleOf(keeper.state, 'trailer');
  written('the trailer', trailer)('elevation', trailer?.body.home?.elevation);
  written('the trailer', trailer)('suspension', trailer?.body.suspension);
  const weighing = weighingsOf(keeper.state).at(-1);
  const ticket = written('the weighing', weighing);
  const { solo, hitchedSlack, hitchedSet, step, axles } = weighing?.body ?? {};
  for (const [pass, parts] of Object.entries({ solo, hitchedSlack, hitchedSet })) {
    for (const [part, value] of Object.entries(parts ?? {})) ticket(`${pass}.${part}`, value);
  }
  ticket('step', step);
  ticket('axleLoad', hitchedSet?.axles ?? axles);
  return known;
}

const isQuantity = (value: unknown): value is Quantity =>
  typeof value === 'object' && value !== null && 'unit' in value && 'value' in value && isUnitId(String(value.unit));

/** Runs it on what was filled in. */
export function reckon(
  id: string,
  fields: readonly Field[],
  values: Readonly<Record<string, string>>,
): Result<CalculationAnswer> {
  const given = compact(
    bodyOf(
      fields.filter((field) => field.type !== 'check' || values[field.path] === 'true'),
      values,
    ),
  );
  const made = runCalculation(id, given);
  if (!made.ok) return made;
  const { cautions, limitedBy, assumed, uncertainty, ...rest } = made.value;
  const fieldsOut = outputFields(calculation(id)!);
  const texts = new Map(fieldsOut.map((field) => [field.name, field.text]));
  const rows = Object.entries(rest).flatMap(([name, value]) =>
    flat(value, texts.get(name) || labelOf(name)).map(
      ([label, text], at): AnswerRow => ({
        ...{ name: label, value: text },
        doubt: at === 0 ? boundsText((uncertainty as Record<string, unknown> | undefined)?.[name]) : '',
      }),
    ),
  );
  const doubt = uncertainty === undefined ? '' : sentence(texts.get('uncertainty') ?? '');
  return ok({ rows, doubt, limitedBy: limitedBy ?? '', assumed: assumed ?? [], cautions });
}

/** `890 to 990 lb`. */
function boundsText(bounds: unknown): string {
  if (typeof bounds !== 'object' || bounds === null || !('low' in bounds) || !('high' in bounds)) return '';
  const { low, high } = bounds;
  return isQuantity(low) && isQuantity(high) ? `${formatQuantity(low)} to ${formatQuantity(high)}` : '';
}

/** Lists without the lines that nobody filled in. */
function compact(value: unknown): unknown {
  if (Array.isArray(value)) return value.filter((one) => one !== undefined).map(compact);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, compact(inner)]));
}

function flat(value: unknown, label: string): [string, string][] {
  const name = label.charAt(0).toUpperCase() + label.slice(1);
  if (value === null || value === undefined) return [];
  if (isQuantity(value)) return [[name, formatQuantity(value)]];
  if (typeof value === 'boolean') return [[name, value ? 'yes' : 'no']];
  if (typeof value !== 'object') return [[name, String(value)]];
  if (Array.isArray(value)) {
    if (value.every((one) => typeof one === 'string')) return value.length === 0 ? [] : [[name, value.join('; ')]];
    return value.flatMap((one, index) => flat(one, `${name} ${index + 1}`));
  }
  return Object.entries(value).flatMap(([key, inner]) => flat(inner, `${name}, ${labelOf(key).toLowerCase()}`));
}
