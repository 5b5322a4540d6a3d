import { expect, it } from 'vitest';
import { started } from '../../test/support/outlook-rig.ts';
import { catalogOf, partKind, upkeep } from '../../test/support/rig.ts';
import { addEntry } from '../logbook/index.ts';
import { openDesk } from './index.ts';

const now = '2026-05-27';
const catalog = catalogOf(
  [partKind('bearings')],
  [upkeep('repack', 'bearings', [{ kind: 'months', every: 12, source: 'practice' }])],
);

function worked() {
  const pen = started();
  pen.write('work', '2026-01-10', { done: [{ upkeep: 'repack', part: 'bearings-axle-1-left', outcome: 'good' }] });
  return pen;
}
const due = (pen: ReturnType<typeof started>) => openDesk(pen.state(), catalog, { now }).outlook().items[0]!;

it('lays the owner’s handbook over the catalog, and takes it off again', () => {
  const pen = worked();
  expect(due(pen)).toMatchObject({ dates: { p50: '2027-01-10' }, sources: ['practice'] });
  const value = { upkeep: 'repack', clock: 'months', every: 6, source: 'Axle handbook, page 14' };
  const override = pen.write('set', now, { key: 'override/repack', value });
  const item = due(pen);
  expect(item.dates.p50).toBe('2026-07-10');
  const desk = openDesk(pen.state(), catalog, { now });
  expect(desk.catalog.sources.get(item.sources[0]!)).toMatchObject({ title: 'Axle handbook, page 14', owner: true });
  pen.write('strike', now, { entry: override.id, reason: 'another axle' });
  expect(due(pen).dates.p50).toBe('2027-01-10');
});

it('for one part only, where the override names it', () => {
  const pen = worked();
  pen.write('fit', '2026-01-10', { part: 'bearings-axle-2-left', kind: 'bearings', isNew: true });
  const value = { upkeep: 'repack', part: 'bearings-axle-2-left', clock: 'months', every: 3, source: 'Hub label' };
  pen.write('set', now, { key: 'override/repack-2', value });
  const { items } = openDesk(pen.state(), catalog, { now }).outlook();
  expect(items.map((item) => [item.part, item.dates.p50])).toEqual([
    ['bearings-axle-2-left', '2026-04-10'],
    ['bearings-axle-1-left', '2027-01-10'],
  ]);
});

it('tells a setting that does not hold, and lets the rest stand', () => {
  const pen = worked();
  pen.write('set', now, {
    key: 'override/repack',
    value: { upkeep: 'no-such-upkeep', clock: 'months', every: 6, source: 'x' },
  });
  const desk = openDesk(pen.state(), catalog, { now });
  expect(desk.catalogProblems).toMatchObject([{ code: 'catalog.reference-unknown' }]);
  expect(desk.outlook().items[0]!.dates.p50).toBe('2027-01-10');
});

it('gives the same catalog for the same settings, so that a look kept still holds', () => {
  const pen = worked();
  pen.write('set', now, {
    key: 'override/repack',
    value: { upkeep: 'repack', clock: 'months', every: 6, source: 'x' },
  });
  const state = pen.state();
  const first = openDesk(state, catalog, { now });
  const later = addEntry(state, pen.write('carry', now, { item: 'jack-bottle', aboard: true }));
  const second = openDesk(later, catalog, { now });
  expect(second.catalog).toBe(first.catalog);
  expect(second.outlookModel().looks[0]).toBe(first.outlookModel().looks[0]);
});
