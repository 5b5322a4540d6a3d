import * as z from 'zod/mini';
import { bodySchema, type EntryKind } from '../../../logbook/index.ts';
import {
  type Dimension,
  preferredUnit,
  type System,
  type UnitId,
  unitSymbol,
  unitsOf,
} from '../../../quantity/index.ts';

export interface Choice {
  readonly value: string;
  readonly label: string;
}

/** One thing to fill in. `path` says where it stands in the entry's body: `hitchedSet.front`, `done.0.outcome`. */
export interface Field {
  readonly path: string;
  readonly label: string;
  readonly group: string;
  readonly type: 'text' | 'long' | 'tel' | 'date' | 'label-date' | 'number' | 'quantity' | 'choice' | 'check';
  readonly required: boolean;
  readonly value: string;
  readonly help: string;
  /** For a quantity: its units, the owner's own first. */
  readonly units?: readonly Choice[];
  readonly unit?: string;
  readonly choices?: readonly Choice[];
  /** A code that is read while it is typed, and the kind of part it stands on. */
  readonly decodes?: string;
  /** A distance that a file can tell. */
  readonly byFile?: boolean;
  /** What else is asked depends on what is chosen here. */
  readonly turns?: boolean;
  /** Seldom filled in: folded away until asked for. */
  readonly seldom?: boolean;
  /** Its few choices stand side by side, each one tap away. */
  readonly aside?: boolean;
  readonly placeholder?: string;
  /** Said after the label of what may stay empty; `if known` else. */
  readonly ifEmpty?: string;
}

/** What zod keeps about a schema; only what is looked at here. */
interface Def {
  readonly type: string;
  readonly shape?: Readonly<Record<string, z.ZodMiniType>>;
  readonly innerType?: z.ZodMiniType;
  readonly entries?: Readonly<Record<string, string>>;
}

const defOf = (schema: z.ZodMiniType): Def => schema.def as unknown as Def;

const LABELS: Readonly<Record<string, string>> = {
  goodThrough: 'Good through',
  madeOn: 'Made on (year, or year-month)',
  isNew: 'Newly fitted',
  by: 'Written by',
  odometerTow: 'Odometer of the tow vehicle',
  doneBy: 'Done by',
  solo: 'Tow vehicle alone',
  hitchedSlack: 'Hitched, weight distribution slack',
  hitchedSet: 'Hitched, weight distribution set',
  axles: 'Trailer axles',
  gvwr: 'GVWR',
  gcwr: 'GCWR',
  gawrFront: 'GAWR, front',
  gawrRear: 'GAWR, rear',
  gawrAxle: 'GAWR, one trailer axle',
  vin: 'VIN',
  ballToAxles: 'Ball to the middle of the axles',
  chance: 'Chance that we go (1 = surely)',
  miles: 'Miles planned',
  highest: 'Highest temperature expected',
  lowest: 'Lowest temperature expected',
  step: 'Step of the scale',
  what: 'What was read',
};

/** Units in which a part of a rig is usually read, where the dimension alone would mislead. */
const HINTS: Readonly<Record<string, UnitId>> = {
  wheelbase: 'in',
  overhang: 'in',
  ballToAxles: 'ft',
  elevation: 'ft',
  greatestHeight: 'ft',
};

export function labelOf(name: string): string {
  const known = LABELS[name];
  if (known !== undefined) return known;
  const spaced = name
    .replace(/([A-Z])/g, ' $1')
    .replaceAll('-', ' ')
    .toLowerCase();
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

/** Units of a dimension, the one the owner would use first. */
export function unitChoices(dimension: Dimension, system: System, hint?: UnitId): Choice[] {
  const first = preferredUnit(dimension, system, hint);
  return [first, ...unitsOf(dimension).filter((unit) => unit !== first)].map((unit) => ({
    value: unitSymbol(unit) || unit,
    label: unitSymbol(unit) || unit,
  }));
}

/** Fields of an entry's body as its schema has them; lists and free-form records are left to whoever knows what belongs in them. */
export function fieldsOf(kind: EntryKind, system: System): Field[] {
  return walk(bodySchema(kind) as z.ZodMiniType, '', '', true, system);
}

function walk(schema: z.ZodMiniType, path: string, group: string, required: boolean, system: System): Field[] {
  const def = defOf(schema);
  const name = path.split('.').at(-1)!;
  const base = { path, label: labelOf(name), group, required, value: '', help: '' };
  switch (def.type) {
    case 'optional':
    case 'default':
      return walk(def.innerType!, path, group, false, system);
    case 'object': {
      const inner = path === '' ? '' : group === '' ? labelOf(name) : `${group}: ${labelOf(name).toLowerCase()}`;
      return Object.entries(def.shape!).flatMap(([key, field]) =>
        walk(field, path === '' ? key : `${path}.${key}`, inner, required, system),
      );
    }
    case 'enum':
      return [
        {
          ...base,
          type: 'choice',
          choices: Object.values(def.entries!).map((value) => ({ value, label: labelOf(value) })),
        },
      ];
    case 'boolean':
      return [{ ...base, type: 'check' }];
    case 'number':
      return [{ ...base, type: 'number' }];
    case 'string':
      return [{ ...base, type: textType(name) }];
    case 'pipe': {
      const dimension = z.globalRegistry.get(schema)?.dimension as Dimension | undefined;
      if (dimension === undefined) return [{ ...base, type: 'text', help: 'A number with its unit: 50 psi' }];
      const units = unitChoices(dimension, system, HINTS[name]);
      return [{ ...base, type: 'quantity', units, unit: units[0]!.value }];
    }
    default:
      return [];
  }
}

function textType(name: string): Field['type'] {
  if (['leave', 'return', 'left', 'back'].includes(name)) return 'date';
  if (name === 'madeOn') return 'label-date';
  if (name === 'goodThrough') return 'label-date';
  return name === 'note' || name === 'reason' ? 'long' : 'text';
}

/** Filled-in fields as the body of an entry: empty ones left out, lists where the path counts. */
export function bodyOf(fields: readonly Field[], values: Readonly<Record<string, string>>): Record<string, unknown> {
  const body: Record<string, unknown> = {};
  for (const field of fields) {
    const text = (values[field.path] ?? field.value).trim();
    if (field.type === 'check') put(body, field.path, text === 'true');
    else if (text === '') continue;
    else if (field.type === 'number') put(body, field.path, Number(text.replaceAll(',', '')));
    else if (field.type === 'quantity')
      put(body, field.path, withUnit(text, values[`${field.path}#unit`] ?? field.unit ?? ''));
    else put(body, field.path, text);
  }
  return body;
}

/** A number takes the unit chosen beside it; whoever writes the unit out means that one. */
function withUnit(text: string, unit: string): string {
  return /[a-z°%$]/i.test(text) ? text : `${text} ${unit}`;
}

/** Puts a value at `done.0.outcome`, making objects and lists on the way. */
export function put(body: Record<string, unknown>, path: string, value: unknown): void {
  const steps = path.split('.');
  let at: Record<string, unknown> = body;
  steps.forEach((step, index) => {
    if (index === steps.length - 1) at[step] = value;
    else {
      at[step] ??= /^\d+$/.test(steps[index + 1]!) ? [] : {};
      at = at[step] as Record<string, unknown>;
    }
  });
}
