import { expect, it } from 'vitest';
import { demoDesk } from '../../../../test/support/demo.ts';
import { weighingsOf } from '../../../logbook/index.ts';
import { loadFigures, loadMargins } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { scaleView } from './scale.ts';

it('holds the greater of weight distribution slack and set against each rating, as the send-off does', () => {
  const desk = demoDesk();
  const { state, catalog, now } = desk;
  const keeper = { state, catalog, today: now } as unknown as Keeper;
  const figures = loadFigures(weighingsOf(state).at(-1)!);
  if (!figures.ok) throw new Error('the demo’s newest weighing does not add up');
  const rear = scaleView(keeper).margins.find((row) => row.what.startsWith('Rear axle'))!;
  // The demo's tickets: 4,050 lb with the bars slack, less with them set; the axle must bear both.
  expect(rear.load).toBe('4,050 lb');
  expect(figures.value.rear).toEqual({ value: 4_050, unit: 'lb' });
  // Every rating on record stands on the page, the chains' too.
  const rated = loadMargins(state, figures.value).filter((row) => row.used !== null);
  expect(scaleView(keeper).margins.map((row) => row.used)).toEqual(rated.map((row) => row.used));
});
