import { describe, expect, it } from 'vitest';
import { find } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, tripOf } from '../../../test/support/sound-rig.ts';
import { type RigState, withUnread } from '../../logbook/index.ts';
import { lookAhead } from '../../outlook/index.ts';
import { unwrap } from '../../problem/index.ts';
import { sendOff } from '../send-off.ts';

const catalog = smallCatalog({});
const NOW = '2026-06-11';
const judged = (state: RigState) => {
  const { outlook } = lookAhead(state, catalog, { now: NOW, paths: 64 });
  return unwrap(sendOff({ state, catalog, outlook, trip: 'palouse', now: NOW }));
};
const ready = (book: Logbook) => book.add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));

describe('a logbook of which not all is read', () => {
  const { state } = ready(soundRig());
  it('is clear when everything is', () => expect(judged(state).judgement).toBe('clear'));

  it.each([
    [{ newer: 2, broken: 0 }, 'rig/newer-2', '2 entries need a newer version of this program'],
    [{ newer: 1, broken: 0 }, 'rig/newer-1', '1 entry needs a newer version of this program'],
    [{ newer: 0, broken: 1 }, 'rig/unreadable-1', '1 entry cannot be read'],
  ])('is never clear: %j', (unread, id, text) => {
    const result = judged(withUnread(state, unread));
    expect(result.judgement).toBe('limits');
    expect(find(result, id).text).toContain(text);
  });

  it('a waiver of two says nothing of a third', () => {
    const waived = ready(soundRig()).add('waive', NOW, { trip: 'palouse', finding: 'rig/newer-2', reason: 'the cat' });
    expect(judged(withUnread(waived.state, { newer: 2, broken: 0 })).judgement).toBe('clear');
    expect(judged(withUnread(waived.state, { newer: 3, broken: 0 })).judgement).toBe('limits');
  });

  it('is not clear with an entry set aside, until somebody decides about it', () => {
    // A strike of itself is set aside for good; only rejecting it decides.
    const odd = ready(soundRig()).add('strike', NOW, { entry: '01J00000000000000000000006', reason: 'slip' });
    expect(odd.last.id).toBe('01J00000000000000000000006');
    expect(find(judged(odd.state), `rig/aside-${odd.last.id.toLowerCase()}`).evidence).toEqual([odd.last.id]);
    expect(judged(odd.state).judgement).toBe('hold');
    const key = `quarantine/${odd.last.id.toLowerCase()}`;
    expect(judged(odd.add('set', NOW, { key, value: 'reject' }).state).judgement).toBe('clear');
  });
});
