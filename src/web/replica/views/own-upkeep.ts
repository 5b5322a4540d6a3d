import { settingsOf } from '../../../logbook/index.ts';
import { fail, ok, type Problem } from '../../../problem/index.ts';
import { againstOwn, kindsThere } from './handbook.ts';
import type { OwnForm } from './own-forms.ts';
import { slugOf } from './slug.ts';

const CLOCKS: Readonly<Record<string, (every: number) => object>> = {
  mi: (every) => ({ kind: 'miles', every: `${every} mi` }),
  km: (every) => ({ kind: 'miles', every: `${every} km` }),
  months: (every) => ({ kind: 'months', every }),
  years: (every) => ({ kind: 'months', every: every * 12 }),
  nights: (every) => ({ kind: 'nights', every }),
};
const UNITS = ['months', 'years', 'mi', 'km', 'nights'];
const SEVERITIES = [
  ['comfort', 'Comfort: a nuisance'],
  ['damage', 'Damage: something breaks'],
  ['safety', 'Safety: somebody may be hurt'],
] as const;

/** An upkeep that is in no list of ours: it is planned and proven like any other. */
export const ownUpkeep: OwnForm = {
  fields: (keeper) => {
    const plain = { group: '', required: true, value: '', help: '' };
    return [
      { ...plain, path: 'title', label: 'What is to be done', type: 'text', placeholder: 'Oil the awning’s arms' },
      { ...plain, path: 'part', label: 'On which kind of part', type: 'choice', choices: kindsThere(keeper) },
      {
        ...{ ...plain, path: 'every', label: 'How often: every', type: 'quantity', unit: UNITS[0]! },
        units: UNITS.map((unit) => ({ value: unit, label: unit })),
      },
      {
        ...{ ...plain, path: 'severity', label: 'What is at stake', type: 'choice', value: 'comfort' },
        choices: SEVERITIES.map(([value, label]) => ({ value, label })),
      },
      { ...plain, path: 'minutes', label: 'Minutes it takes', type: 'number' },
      { ...plain, path: 'failureCost', label: 'Cost if it fails away', type: 'number' },
      {
        ...plain,
        path: 'source',
        label: 'Where this comes from',
        type: 'text',
        placeholder: 'Awning handbook, page 3',
      },
    ];
  },
  read(keeper, values) {
    const problems: Problem[] = [];
    const wrong = (where: string, what: string, expected: string): void => {
      problems.push({ code: 'handbook.own', what, where, expected });
    };
    const number = (where: string, text: string, least: number, expected: string): number => {
      const value = Number(text.replaceAll(',', ''));
      if (text.trim() === '' || !(value >= least)) wrong(where, `“${text}” does not fit`, expected);
      return value;
    };
    const [title, source, unit] = [values('title'), values('source'), values('every#unit')];
    if (title === '') wrong('title', 'It has no name yet', 'what is to be done, in a few words');
    const every = number('every', values('every'), Number.MIN_VALUE, 'a number above 0');
    const minutes = number('minutes', values('minutes'), 1, 'minutes, 1 or more');
    const failureCost = number('failureCost', values('failureCost'), 0, 'money, 0 or more');
    if (source === '') wrong('source', 'Say where it comes from', 'a handbook and its page, or whose practice it is');
    const clock = CLOCKS[unit]?.(every);
    if (clock === undefined) wrong('every', `“${unit}” is no unit for this`, UNITS.join(', '));
    const [first, ...more] = problems;
    if (first !== undefined) return fail(first, ...more);
    const key = `own-upkeep/${slugOf(title)}`;
    if (settingsOf(keeper.state, 'own-upkeep').has(slugOf(title)))
      return fail({
        code: 'handbook.own',
        what: `You have an upkeep of that name already`,
        where: 'title',
        expected: 'another name, or take the earlier one back first',
      });
    const value = {
      title,
      part: values('part'),
      clocks: [clock],
      severity: values('severity'),
      minutes,
      failureCost,
      source,
    };
    const [against, ...rest] = againstOwn(keeper, { key, value });
    return against === undefined ? ok({ key, value }) : fail(against, ...rest);
  },
};
