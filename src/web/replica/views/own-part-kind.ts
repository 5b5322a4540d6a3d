import { settingsOf } from '../../../logbook/index.ts';
import { fail, ok } from '../../../problem/index.ts';
import { againstOwn } from './handbook.ts';
import type { OwnForm } from './own-forms.ts';
import { slugOf } from './slug.ts';

const PER = [
  ['each', 'As many as there are'],
  ['rig', 'One'],
  ['axle', 'One an axle'],
  ['wheel', 'One a wheel'],
] as const;

/** A kind of part that is in no list of ours: it can be fitted, looked at and given upkeeps like any other. */
export const ownPartKind: OwnForm = {
  fields: () => {
    const plain = { group: '', required: true, value: '', help: '' };
    return [
      { ...plain, path: 'name', label: 'What it is', type: 'text', placeholder: 'Bicycle rack' },
      {
        ...{ ...plain, path: 'vehicle', label: 'On which vehicle', type: 'choice', value: 'trailer' },
        choices: [
          { value: 'trailer', label: 'The trailer' },
          { value: 'tow', label: 'The tow vehicle' },
        ],
      },
      {
        ...{ ...plain, path: 'per', label: 'How many', type: 'choice', value: 'each' },
        choices: PER.map(([value, label]) => ({ value, label })),
      },
      {
        ...{ ...plain, path: 'identify', label: 'What to look for on it', type: 'long', required: false },
        ...{ ifEmpty: 'one thing a line', help: 'Asked on the walk-round.' },
      },
    ];
  },
  read(keeper, values) {
    const name = values('name');
    if (name === '')
      return fail({
        code: 'handbook.own',
        what: 'It has no name yet',
        where: 'name',
        expected: 'what the part is called',
      });
    const id = slugOf(name);
    if (settingsOf(keeper.state, 'own-part-kind').has(id))
      return fail({
        ...{ code: 'handbook.own', what: 'You have a kind of part of that name already', where: 'name' },
        expected: 'another name, or take the earlier one back first',
      });
    const identify = values('identify')
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
    const value = {
      ...{ name, vehicle: values('vehicle'), per: values('per') },
      ...(identify.length === 0 ? {} : { identify }),
    };
    const setting = { key: `own-part-kind/${id}`, value };
    const [against, ...rest] = againstOwn(keeper, setting);
    return against === undefined ? ok(setting) : fail(against, ...rest);
  },
};
