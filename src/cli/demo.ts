import text from '../../demo/marigold.jsonl?raw';
import { type Entry, readEntries } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';

/** The day on which the demo rig stands, unless another is asked for. */
export const DEMO_TODAY = '2026-05-27';

/** The demo rig's logbook. */
export function demoLogbook(): Entry[] {
  return unwrap(readEntries(text));
}
