import { clockText, type Upkeep, upkeepOfPart } from '../../../catalog/index.ts';
import { settingWords } from '../../../logbook/index.ts';
import { fail, ok, type Result } from '../../../problem/index.ts';
import { convert, formatNumber, parseUnit, type Quantity } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Field } from './form-fields.ts';
import { againstOwn, figuresOf, handbookUpkeeps, namesOf, ownOf, rangeText, usualOf } from './handbook.ts';
import type { OwnForm, OwnSetting } from './own-forms.ts';

/** Another interval or limit than ours: first which upkeep, then what its handbook says of one of its figures. */
export const override: OwnForm = {
  fields(keeper, chosen) {
    const upkeeps = handbookUpkeeps(keeper);
    const upkeep = upkeeps.find(({ id }) => id === chosen.upkeep);
    const first: Field = {
      ...{ path: 'upkeep', label: 'Upkeep', group: '', type: 'choice', required: true, help: '', turns: true },
      value: upkeep?.id ?? '',
      choices: [
        { value: '', label: 'Pick what your handbook speaks of' },
        ...upkeeps.map(({ id, title }) => ({ value: id, label: title })),
      ],
    };
    if (upkeep === undefined) return [first];
    const figure = upkeep.figures.find(({ id }) => id === chosen.figure) ?? upkeep.figures[0]!;
    const plain = { group: '', required: true, value: '', help: '' };
    const source = figure.source === '' ? '' : ` (${figure.source})`;
    const range = figure.range === '' ? '.' : `; sources say ${figure.range}.`;
    return [
      first,
      {
        ...{ ...plain, path: 'figure', label: 'Which figure', type: 'choice', turns: true, value: figure.id },
        choices: upkeep.figures.map(({ id, label }) => ({ value: id, label })),
      },
      {
        ...{ ...plain, path: 'value', label: 'Yours', type: 'quantity' },
        help: `Where you say nothing: ${figure.usual}${source}${range}`,
        units: figure.units,
        unit: figure.units[0]!.value,
      },
      ...(upkeep.parts.length < 2
        ? []
        : [
            {
              ...{ ...plain, path: 'part', label: 'On which part', type: 'choice' as const },
              choices: [{ value: '', label: 'All of them' }, ...upkeep.parts],
            },
          ]),
      {
        ...{ ...plain, path: 'source', label: 'Where it comes from', type: 'text' },
        placeholder: 'Axle handbook, page 14',
      },
    ];
  },
  read: (keeper, values) =>
    overrideOf(keeper, {
      upkeep: values('upkeep'),
      figure: values('figure'),
      part: values('part'),
      value: values('value'),
      unit: values('value#unit'),
      source: values('source'),
    }),
};

export interface OverrideAsk {
  readonly upkeep: string;
  readonly figure: string;
  /** Empty: every part of the kind. */
  readonly part: string;
  readonly value: string;
  readonly unit: string;
  readonly source: string;
}

/** A figure as its unit means it: months for years, plain numbers otherwise. */
const MONTHS_A_YEAR = 12;
/** Further from what the trade says than by this factor, a figure is asked about. */
const FAR = 2;

/**
 * The owner's figure as a setting. Problems: `handbook.figure` (not a number above zero), `handbook.source`, and whatever the catalog
 * has against it.
 */
export function overrideOf(keeper: Keeper, ask: OverrideAsk): Result<OwnSetting> {
  const upkeep = upkeepOfPart(keeper.shipped, ask.upkeep, ask.part);
  const figure = upkeep && figuresOf(keeper.shipped, upkeep).find(({ id }) => id === ask.figure);
  if (upkeep === undefined || figure === undefined)
    return fail({ code: 'handbook.figure', what: 'Choose an upkeep and one of its figures', where: 'figure' });
  const numbers = ask.value.split(/[,;]\s+|\s+/).map((text) => Number(text.replaceAll(',', '')));
  const single = ask.figure !== 'after';
  if (ask.value.trim() === '' || numbers.some((number) => !(number > 0)) || (single && numbers.length > 1)) {
    const expected = single ? 'a number above 0' : 'numbers above 0, such as 10 25 50';
    return fail({ code: 'handbook.figure', what: `“${ask.value}” is no figure for this`, where: 'value', expected });
  }
  if (ask.source.trim() === '')
    return fail({
      code: 'handbook.source',
      what: 'Say where it comes from',
      where: 'source',
      expected: 'a handbook and its page, or whose practice it is',
    });
  const key = keyOf(keeper, upkeep.id, ask);
  const value = {
    upkeep: upkeep.id,
    ...(ask.part === '' ? {} : { part: ask.part }),
    ...figuresAsked(upkeep, ask, numbers),
    source: ask.source.trim(),
  };
  const [first, ...more] = againstOwn(keeper, { key, value });
  if (first !== undefined) return fail(first, ...more);
  const odd = oddness(upkeep, ask, numbers[0]!);
  return ok({ key, value, notes: odd === '' ? [] : [`${settingWords(key, value, namesOf(keeper))}. ${odd}`] });
}

/** The key under which this figure stands already, whoever chose it; else one that says what it is about. */
function keyOf(keeper: Keeper, upkeep: string, { figure, part }: OverrideAsk): string {
  const same = ownOf(keeper, 'override').find(({ value }) => {
    const one = value as Readonly<Record<string, unknown>>;
    return one.upkeep === upkeep && (one.part ?? '') === part && (one.clock ?? 'minutes') === figure;
  });
  return same?.key ?? ['override', upkeep, figure, ...(part === '' ? [] : [part])].join('/');
}

const withUnit = (number: number, unit: string): string => `${formatNumber(number, 6)} ${unit}`;

function figuresAsked(upkeep: Upkeep, { figure, unit }: OverrideAsk, numbers: readonly number[]) {
  const [number] = numbers as [number, ...number[]];
  const months = unit === 'years' ? number * MONTHS_A_YEAR : number;
  const clock = upkeep.clocks.find(({ kind }) => kind === figure);
  switch (figure) {
    case 'minutes':
      return { minutes: number };
    case 'miles':
      return { clock: figure, every: withUnit(number, unit) };
    case 'months':
      return { clock: figure, every: months };
    case 'age':
      // What is worth renewing only later than it must be says nothing: the earlier of the two holds.
      return {
        clock: figure,
        by: months,
        ...(clock?.kind === 'age' && (clock.from ?? 0) > months ? { from: months } : {}),
      };
    case 'departure':
      return { clock: figure, withinDays: number };
    case 'after':
      return { clock: figure, atMiles: numbers.map((mile) => withUnit(mile, unit)) };
    case 'limit':
      return { clock: figure, limit: withUnit(number, unit) };
    default:
      return { clock: figure, every: number };
  }
}

/** Whether a figure is far from what our sources say, so that a slip of a digit or a unit is seen. */
function oddness(upkeep: Upkeep, { figure, unit }: OverrideAsk, number: number): string {
  const clock = upkeep.clocks.find(({ kind }) => kind === figure);
  const usual = clock === undefined ? undefined : usualOf(clock);
  if (clock === undefined || usual === undefined) return '';
  const asked = unit === 'years' ? number * MONTHS_A_YEAR : inUnit(number, unit, usual);
  const plain = typeof usual === 'number' ? usual : usual.value;
  const [least, most] = clock.range ?? [plain / FAR, plain * FAR];
  if (asked === undefined || (asked >= least && asked <= most)) return '';
  const which = asked > most ? 'more' : 'less';
  return clock.range === undefined
    ? `That is ${which} than half or twice what the trade says (${clockText(clock)}). Is the unit right?`
    : `That is ${which} than any source here says (${rangeText(clock)}). Is the unit right?`;
}

function inUnit(number: number, unit: string, usual: number | Quantity): number | undefined {
  if (typeof usual === 'number') return number;
  const read = parseUnit(unit);
  return read.ok ? convert({ value: number, unit: read.value }, usual.unit).value : undefined;
}
