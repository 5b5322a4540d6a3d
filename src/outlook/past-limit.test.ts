import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { demoEntries } from '../../test/support/demo.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { foldEntries } from '../logbook/index.ts';
import { lookAhead } from './index.ts';

const NOW = '2026-05-27';

/** How a duty stands on the demo rig once more was written. */
function stands(upkeep: string, part: string, more: (book: Logbook) => Logbook) {
  const { entries } = more(new Logbook(demoEntries()));
  const { items } = lookAhead(foldEntries(entries), shippedCatalog(), { now: NOW }).outlook;
  const item = items.find((one) => one.upkeep === upkeep && one.part === part);
  // A duty whose clocks wait for other work is not told at all.
  return { state: item?.state ?? 'waits', why: item?.why ?? '' };
}

const work =
  (upkeep: string, part: string, readings: Record<string, string>, on = '2026-05-26') =>
  (book: Logbook) =>
    book.add('work', on, {
      done: [
        {
          upkeep,
          part,
          outcome: 'good',
          readings: Object.entries(readings).map(([what, value]) => ({ what, value })),
        },
      ],
      odometer: '64,120.4 mi',
    });

const partOf = (kind: string): string => {
  const fit = demoEntries().findLast((entry) => entry.kind === 'fit' && entry.body.kind === kind);
  if (fit?.kind !== 'fit') throw new Error(`the demo rig has no ${kind}`);
  return fit.body.part;
};
const kindOf = (upkeep: string): string => shippedCatalog().upkeeps.get(upkeep)!.part;

describe('a reading past its limit is as bad as work that failed, whatever was ticked', () => {
  // Each limit stands in the catalog with its source: handbooks of axles, NFPA 54 annex C, an RV gas technician's reference, and a school.
  it.each([
    ['check-hub-heat', { 'hub-temperature': '260 °F' }, { 'hub-temperature': '150 °F' }],
    ['check-hub-heat', { 'hub-temperature': '66 °C' }, { 'hub-temperature': '65 °C' }],
    ['repack-bearings', { 'bearing-end-play': '0.011 in' }, { 'bearing-end-play': '0.010 in' }],
    ['check-regulator', { 'gas-pressure-lockup': '25 in. w.c.' }, { 'gas-pressure-lockup': '14 in. w.c.' }],
    [
      'test-gas-leak-drop',
      { 'leak-start': '9 in. w.c.', 'leak-end': '8.9 in. w.c.' },
      { 'leak-start': '9 in. w.c.', 'leak-end': '9 in. w.c.' },
    ],
  ])('%s with %o, but not with %o', (upkeep, past, held) => {
    const part = partOf(kindOf(upkeep));
    const wrong = stands(upkeep, part, work(upkeep, part, past));
    expect(wrong).toEqual({ state: 'failed', why: expect.stringMatching(/^Past its limit: .+; nothing since/) });
    expect(stands(upkeep, part, work(upkeep, part, held)).state).not.toBe('failed');
  });

  it('read alone, after the work, counts too; and work since puts it right', () => {
    const part = partOf(kindOf('check-hub-heat'));
    const hot = (book: Logbook) =>
      book.add('reading', '2026-05-24', { part, what: 'hub-temperature', value: '260 °F' });
    expect(stands('check-hub-heat', part, hot)).toMatchObject({
      state: 'failed',
      why: expect.stringContaining('hub temperature 260 °F on 24 May 2026, at most 150 °F'),
    });
    const cooled = stands('check-hub-heat', part, (book) =>
      work('check-hub-heat', part, { 'hub-temperature': '110 °F' })(hot(book)),
    );
    expect(cooled.state).not.toBe('failed');
  });
});
