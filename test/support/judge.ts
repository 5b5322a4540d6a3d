import type { Catalog } from '../../src/catalog/index.ts';
import { lookAhead } from '../../src/outlook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { type Finding, type SendOff, sendOff } from '../../src/sendoff/index.ts';
import type { Logbook } from './logbook.ts';

/** The send-off of the trip `palouse`, on the real outlook with fewer paths. */
export function judge(logbook: Logbook, catalog: Catalog, now: string, trip = 'palouse', paths = 256): SendOff {
  const { state } = logbook;
  const { outlook } = lookAhead(state, catalog, { now, paths });
  return unwrap(sendOff({ state, catalog, outlook, trip, now }));
}

/** One finding by its id; the test fails with the ids there are. */
export function find(result: SendOff, id: string): Finding {
  const found = result.findings.find((finding) => finding.id === id);
  if (!found) throw new Error(`no finding ${id} among ${result.findings.map((finding) => finding.id).join(', ')}`);
  return found;
}
