import { partOf, partsOf, tripsOf } from '../../../logbook/index.ts';
import { dimensionOf, parseUnit, type System } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import { factName, partName, readingName } from './entry-text.ts';
import { type Choice, type Field, labelOf, unitChoices } from './form-fields.ts';
import type { Told } from './told.ts';

/** What is known before a form is filled in, by the path of its field. */
export type Known = Readonly<Record<string, string>>;

/** Names of things on the rig are chosen, not typed; `undefined` where there is nothing to choose. */
export function asChoice(keeper: Keeper, told: Told, field: Field, known: Known): Field | undefined {
  const parts = partsOf(keeper.state);
  const partChoices = (of: typeof parts): Choice[] =>
    of.map(({ id }) => ({ value: id, label: labelOf(partName(told, id)) }));
  switch (field.path) {
    case 'part':
      // An odometer belongs to no part.
      return known.what === undefined && field.turns
        ? chosenFrom({ ...field, label: 'Read off', ifEmpty: '' }, partChoices(parts), 'The odometer')
        : chosenFrom(field, partChoices(parts));
    case 'replaces': {
      const alike = parts.filter(({ kind }) => known.kind === undefined || kind === known.kind);
      return alike.length === 0 ? undefined : chosenFrom(field, partChoices(alike));
    }
    case 'kind':
      return chosenFrom(field, [...keeper.catalog.partKinds.values()].map(byName));
    case 'upkeep':
      return chosenFrom(
        field,
        [...keeper.catalog.upkeeps.values()]
          .filter((upkeep) => upkeep.drill)
          .map(({ id, title }) => ({ value: id, label: title })),
      );
    case 'item':
      return chosenFrom(field, [...keeper.catalog.kit.values()].map(byName));
    case 'trip':
      return chosenFrom(
        field,
        tripsOf(keeper.state)
          .filter((trip) => !trip.done)
          .map(({ id, plan }) => ({ value: id, label: plan.body.name })),
      );
    case 'what':
      return chosenFrom(
        field,
        readingsOf(keeper, known).map(({ what }) => ({ value: what, label: labelOf(readingName(what)) })),
      );
    case 'value': {
      const unit = known.part
        ? readingsOf(keeper, known).find((one) => one.what === known.what)?.unit
        : told.system === 'us'
          ? 'mi'
          : 'km';
      return unit === undefined ? field : measured({ ...field, help: '' }, unit, told.system);
    }
    default:
      return field;
  }
}

const byName = ({ id, name }: { readonly id: string; readonly name: string }): Choice => ({ value: id, label: name });

/** A field to choose from these, or to type where there are none. */
const chosenFrom = (field: Field, choices: readonly Choice[], none = '–'): Field =>
  choices.length === 0 ? field : { ...field, type: 'choice', choices: [{ value: '', label: none }, ...choices] };

/** What can be read off a part, each once. */
function readingsOf(keeper: Keeper, known: Known): readonly { readonly what: string; readonly unit: string }[] {
  const kind = partOf(keeper.state, known.part ?? '')?.kind ?? '';
  const all = (keeper.catalog.upkeepsOf.get(kind) ?? []).flatMap(({ readings }) => readings);
  return [...new Map(all.map((one) => [one.what, one])).values()];
}

/** A field that measures what this unit measures. */
export function measured(field: Field, unit: string, system: System): Field {
  const parsed = parseUnit(unit);
  if (!parsed.ok) return field;
  const units = unitChoices(dimensionOf(parsed.value), system, parsed.value);
  return { ...field, type: 'quantity', units, unit: units[0]!.value };
}

/** What the label of a part of this kind says. */
export function factFields(keeper: Keeper, told: Told, known: Known): Field[] {
  const kind = keeper.catalog.partKinds.get(known.kind ?? '');
  return Object.entries(kind?.facts ?? {}).map(([fact, help]) => {
    const unit = kind?.factUnits?.[fact];
    const field: Field = {
      ...{ path: `facts.${fact}`, label: labelOf(factName(fact)), group: 'What its label says', type: 'text' as const },
      ...{ required: false, value: '', help },
      ...(fact === 'size' ? { decodes: 'tire-size' } : {}),
    };
    return unit === undefined ? field : measured(field, unit, told.system);
  });
}

/** How sure a trip is, in words rather than as a figure between nothing and one. */
const CHANCES: readonly Choice[] = [
  { value: '1', label: 'Surely' },
  { value: '0.8', label: 'Very likely, 80 %' },
  { value: '0.5', label: 'Perhaps, 50 %' },
  { value: '0.2', label: 'Hardly, 20 %' },
];

/** A chance that was written down otherwise stays one to choose. */
const chancesWith = (chance: string | undefined): readonly Choice[] =>
  chance === undefined || CHANCES.some(({ value }) => value === chance)
    ? CHANCES
    : [...CHANCES, { value: chance, label: `${Math.round(Number(chance) * 100)} %` }];

/** What is asked of a trip, in words of its own. */
export function tripField(field: Field, known: Known): Field {
  switch (field.path) {
    case 'chance':
      return { ...field, label: 'Do we go?', type: 'choice', required: true, choices: chancesWith(known.chance) };
    case 'miles':
      return { ...field, byFile: true };
    case 'cancelled':
      return { ...field, label: 'Given up' };
    case 'nights':
      return { ...field, label: 'Nights away', help: 'Where nothing is said: all between leaving and return.' };
    case 'highest':
    case 'lowest':
      return { ...field, help: 'For tire pressures, and for water that freezes.' };
    default:
      return field;
  }
}
