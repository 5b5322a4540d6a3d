import { expect, it } from 'vitest';
import { catalogOf, Pen, partKind, upkeep } from '../../test/support/rig.ts';
import type { EntryOf } from './entry.ts';
import { entryWords } from './words.ts';

const catalog = catalogOf(
  [partKind('wheel-bearings')],
  [
    upkeep('repack-bearings', 'wheel-bearings', [{ kind: 'months', every: 12, source: 'practice' }], {
      title: 'Repack the wheel bearings',
    }),
  ],
);

const said = (key: string, value: EntryOf<'set'>['body']['value']): string => {
  const pen = new Pen();
  pen.write('fit', '2025-01-05', { part: 'b-1', kind: 'wheel-bearings', place: 'axle 1, left', isNew: false });
  const entry = pen.write('set', '2026-05-01', { key, value });
  return entryWords(entry, { state: pen.state(), catalog });
};

it.each([
  ['free-days', { weekdays: [6, 0], hours: 8, hoursOn: { 0: 3.5 } }, 'Free at home: Saturday 8 h, Sunday 3.5 h'],
  ['day/2026-06-06', { hours: 0 }, 'Free on 6 Jun 2026: not at all'],
  ['alpha/safety', 0.05, 'Chance accepted of running out on a trip, safety: 5 %'],
  ['first-freeze', '10-12', 'First freeze at home: 12 October'],
  ['speed-max', { value: 60, unit: 'mph' }, 'Speed kept to: 60 mph'],
  ['call/otis', { name: 'Otis', number: '555 0101' }, 'Whom to call, otis: Otis, 555 0101'],
  [
    'pin/repack-bearings.b-1',
    { day: '2026-06-06', how: 'on' },
    'Put by hand: Repack the wheel bearings, wheel bearings (axle 1, left): on 6 Jun 2026',
  ],
  [
    'override/repack-bearings/miles/b-1',
    {
      upkeep: 'repack-bearings',
      part: 'b-1',
      clock: 'miles',
      every: { value: 6000, unit: 'mi' },
      source: 'Axle handbook, page 14',
    },
    'Repack the wheel bearings: every 6,000 mi, wheel bearings (axle 1, left) (Axle handbook, page 14)',
  ],
  [
    'override/repack-bearings/minutes',
    { upkeep: 'repack-bearings', minutes: 90, source: 'my own pace' },
    'Repack the wheel bearings: takes 90 min (my own pace)',
  ],
])('says %s in plain words', (key, value, words) => {
  expect(said(key, value)).toBe(words);
});

it('says what was taken back, and tells what it does not know as it stands', () => {
  expect(said('speed-max', null)).toBe('Speed kept to: taken back');
  expect(said('free-days', { from: 'a newer program' })).toBe('Free at home: {"from":"a newer program"}');
  expect(said('mood', 'good')).toBe('Own figure mood: "good"');
});
