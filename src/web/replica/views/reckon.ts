import {
  type CalculationField,
  calculation,
  calculations,
  inputFields,
  outputFields,
  runCalculation,
} from '../../../calculations/index.ts';
import { type PartState, partsOf, vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import { ok, type Result } from '../../../problem/index.ts';
import { formatQuantity, isUnitId, type Quantity, type System, valueIn } from '../../../quantity/index.ts';
import { LOAD_RANGE_PSI, LOAD_RANGES } from '../../../tires/index.ts';
import type { Keeper } from '../keeper.ts';
import { bodyOf, type Field, labelOf, unitChoices } from './form-fields.ts';
import { toldBy } from './go.ts';

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

export interface CalculationAnswer {
  readonly rows: readonly (readonly [name: string, value: string])[];
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
  known: ReadonlyMap<string, string>,
): Field[] {
  const path = prefix === '' ? field.name : `${prefix}.${field.name}`;
  const base = {
    path,
    label: labelOf(field.name),
    group,
    required: field.required && group === '',
    value: known.get(path) ?? (group === '' ? (known.get(field.name) ?? '') : ''),
    help: field.text,
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

/** What the rig's own data can fill in, by field name. */
function knownOf(keeper: Keeper): ReadonlyMap<string, string> {
  const known = new Map<string, string>();
  const put = (name: string, value: unknown): void => {
    if (typeof value === 'string' || typeof value === 'number') known.set(name, String(value));
    else if (isQuantity(value)) known.set(name, formatQuantity(value));
  };
  const tire: PartState | undefined = partsOf(keeper.state).find((part) => part.kind === 'tire');
  for (const name of ['size', 'loadRange']) put(name, tire?.facts[name]);
  const size = tire?.facts.size;
  if (typeof size === 'string') put('family', /^(ST|LT|P)/.exec(size)?.[1]);
  const most = tire?.facts.pressureColdMax;
  if (!known.has('loadRange') && isQuantity(most))
    put(
      'loadRange',
      LOAD_RANGES.find((range) => LOAD_RANGE_PSI[range] === Math.round(valueIn(most, 'psi'))),
    );
  put('pressure', tire?.readings.get('pressure-cold')?.at(-1)?.value);
  put('gauge', tire?.readings.get('pressure-cold')?.at(-1)?.value);
  put('elevation', vehicleOf(keeper.state, 'trailer')?.body.home?.elevation);
  put('suspension', vehicleOf(keeper.state, 'trailer')?.body.suspension);
  const weighed = weighingsOf(keeper.state).at(-1)?.body;
  for (const [pass, parts] of Object.entries({
    solo: weighed?.solo,
    hitchedSlack: weighed?.hitchedSlack,
    hitchedSet: weighed?.hitchedSet,
  })) {
    for (const [part, value] of Object.entries(parts ?? {})) put(`${pass}.${part}`, value);
  }
  put('axleLoad', weighed?.hitchedSet?.axles ?? weighed?.axles);
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
  const { cautions, limitedBy, assumed, uncertainty: _, ...rest } = made.value;
  const texts = new Map(outputFields(calculation(id)!).map((field) => [field.name, field.text]));
  const rows = Object.entries(rest).flatMap(([name, value]) => flat(value, texts.get(name) || labelOf(name)));
  return ok({ rows, limitedBy: limitedBy ?? '', assumed: assumed ?? [], cautions });
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
