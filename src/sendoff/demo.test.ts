import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { DEMO_TODAY, demoEntries } from '../../test/support/demo.ts';
import { find } from '../../test/support/judge.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { openDesk } from '../desk/index.ts';
import { unwrap } from '../problem/index.ts';
import type { Finding, SendOff } from './index.ts';

const catalog = shippedCatalog();
const demo = new Logbook(demoEntries());
const judge = (book: Logbook, now: string): SendOff =>
  unwrap(openDesk(book.state, catalog, { now, paths: 128 }).sendoff('palouse-2026'));

/** The entry a stop of the demo rig asks for, written down on the day as done well. */
function lift(book: Logbook, { takes }: Finding, now: string): Logbook {
  const entry = takes?.entry;
  if (entry?.kind === 'work') {
    return book.add('work', now, {
      done: entry.parts.map((part) => ({ upkeep: entry.upkeep, part, outcome: 'good' })),
      odometer: '64120.4 mi',
    });
  }
  if (entry?.kind === 'reading') {
    return book.add('reading', now, { part: entry.part, what: entry.what, value: '65 psi', temperature: '68 degF' });
  }
  throw new Error(`no entry that lifts it: ${JSON.stringify(takes)}`);
}

describe('the demo rig before the Palouse', () => {
  const result = judge(demo, DEMO_TODAY);

  it('is a hold: the spare and the bearings of axle 2 stop us, the LP alarm is unproven, 65 mph is a limit', () => {
    expect(result.judgement).toBe('hold');
    expect(result.sentence).toMatch(/^Not yet\. Two things stop us, .* at home\. /);
    expect(find(result, 'tires/pressure@spare')).toMatchObject({ kind: 'stop', takes: { aboard: true } });
    const bearings = find(result, 'upkeep/repack-bearings@bearings-axle-2-left');
    expect(bearings.kind).toBe('stop');
    expect(bearings.text).toContain('due at 64,310.0 mi, 189.6 mi left');
    expect(find(result, 'gas/renew-lp-alarm@lp-alarm')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(find(result, 'tires/speed')).toMatchObject({ kind: 'limit', keepTo: '65 mph' });
  });

  it('carries the re-torques of the wheels that were off into the trip, at 10, 25 and 50 miles', () => {
    const told = result.findings.filter((finding) => finding.upkeep === 'retorque-wheel-nuts');
    expect(told.map((finding) => finding.atMiles)).toEqual([10, 25, 50]);
  });

  it('speaks of nothing that is not in the logbook or the catalog', () => {
    const entries = new Set(demo.entries.map((entry) => entry.id));
    for (const finding of result.findings) {
      expect(finding.evidence.filter((id) => !entries.has(id))).toEqual([]);
      expect(finding.kind === 'pass' || (finding.takes && finding.sources.length > 0)).toBeTruthy();
    }
    const ids = result.findings.map((finding) => finding.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it.each([DEMO_TODAY, '2026-06-12'])('on %s every stop is lifted by just what it names', (now) => {
    for (const stop of judge(demo, now).findings.filter((finding) => finding.kind === 'stop')) {
      const after = judge(lift(demo, stop, now), now).findings.find((finding) => finding.id === stop.id);
      expect(`${stop.id}: ${after?.kind}`).not.toBe(`${stop.id}: stop`);
    }
  });

  it('may go once the stops are lifted and the alarm is read', () => {
    const lifted = result.findings
      .filter((finding) => finding.kind === 'stop')
      .reduce((book, stop) => lift(book, stop, DEMO_TODAY), demo)
      .add('fit', DEMO_TODAY, { part: 'lp-alarm', kind: 'lp-alarm', isNew: true, madeOn: '2026-02' });
    const after = judge(lifted, DEMO_TODAY);
    expect(after.judgement).toBe('limits');
    expect(after.sentence).toMatch(/^Clear with limits: 65 mph/);
  });
});
