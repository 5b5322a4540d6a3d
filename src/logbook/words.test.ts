import { expect, it } from 'vitest';
import { catalogOf, mi, Pen, partKind, psi, upkeep } from '../../test/support/rig.ts';
import { entryWords } from './words.ts';

const catalog = catalogOf(
  [partKind('wheel-bearings'), partKind('spare-tire')],
  [
    upkeep('repack-bearings', 'wheel-bearings', [{ kind: 'months', every: 12, source: 'practice' }], {
      title: 'Repack the wheel bearings',
    }),
  ],
);

it('says each entry in plain words, in the reader’s units', () => {
  const pen = new Pen();
  pen.write('fit', '2025-01-05', { part: 'b-1', kind: 'wheel-bearings', place: 'axle 1, left', isNew: false });
  pen.write('fit', '2025-01-05', { part: 'spare', kind: 'spare-tire', isNew: true, code: '2217' });
  const work = pen.write('work', '2025-04-18', {
    done: [{ upkeep: 'repack-bearings', part: 'b-1', outcome: 'good' }],
    odometer: mi(64_120.4),
  });
  const reading = pen.write('reading', '2025-05-01', {
    part: 'spare',
    what: 'pressure-cold',
    value: psi(41),
    temperature: { value: 12, unit: 'degC' },
  });
  const trip = pen.write('trip', '2025-05-02', {
    trip: 'coast',
    name: 'Coast',
    leave: '2025-06-01',
    return: '2025-06-08',
    miles: mi(400),
    chance: 0.6,
  });
  const strike = pen.write('strike', '2025-05-03', { entry: reading.id, reason: 'wrong tire' });
  const state = pen.state();
  const words = (entry: typeof work, system?: 'us' | 'metric') =>
    entryWords(entry, { state, catalog, ...(system ? { system } : {}) });
  expect(words(work)).toBe('Repack the wheel bearings (axle 1, left), at 64,120.4 mi');
  expect(words(reading, 'metric')).toBe('spare tire: pressure cold 283 kPa at 12 °C');
  expect(words(trip)).toBe('Trip planned: Coast, 1 Jun 2025 to 8 Jun 2025, 400 mi, 60 % sure');
  expect(words(strike)).toContain('Struck: spare tire: pressure cold 41 psi');
  for (const entry of pen.entries) expect(words(entry).length).toBeGreaterThan(5);
});

it('tells of an afternoon only what was asked about', () => {
  const pen = new Pen();
  for (const n of [1, 2])
    pen.write('fit', '2025-01-05', { part: `b-${n}`, kind: 'wheel-bearings', place: `axle ${n}`, isNew: false });
  const done = ['b-1', 'b-2'].map((part) => ({ upkeep: 'repack-bearings', part, outcome: 'good' as const }));
  const work = pen.write('work', '2025-04-18', { done });
  const told = { state: pen.state(), catalog };
  expect(entryWords(work, told)).toBe('Repack the wheel bearings (axle 1; axle 2)');
  expect(entryWords(work, { ...told, about: { part: 'b-2' } })).toBe('Repack the wheel bearings (axle 2)');
});
