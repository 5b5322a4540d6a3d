import { expect, it } from 'vitest';
import { demoDesk } from '../../../../test/support/demo.ts';
import type { Keeper } from '../keeper.ts';
import { partView } from './rig.ts';

it('tells of an afternoon only what was done on the part', () => {
  const desk = demoDesk();
  const { state, catalog, now } = desk;
  const keeper = { state, catalog, today: now, desk: () => desk } as unknown as Keeper;
  const view = partView(keeper, 'spare')!;
  expect(view.history.length).toBeGreaterThan(3);
  for (const line of view.history.filter((entry) => entry.kind === 'work')) expect(line.head).not.toContain('bearings');
});
