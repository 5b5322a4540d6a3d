import { readFileSync } from 'node:fs';
import { type Desk, openDesk } from '../../src/desk/index.ts';
import { type Entry, foldEntries, readEntries } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { shippedCatalog } from './catalog.ts';

/** The day on which the demo rig is looked at. */
export const DEMO_TODAY = '2026-05-27';

/** The demo rig's logbook. */
export function demoEntries(): Entry[] {
  return unwrap(readEntries(readFileSync(new URL('../../demo/marigold.jsonl', import.meta.url), 'utf8')));
}

/** The demo rig on its day, ready to be asked. */
export function demoDesk(now = DEMO_TODAY): Desk {
  return openDesk(foldEntries(demoEntries()), shippedCatalog(), { now });
}
