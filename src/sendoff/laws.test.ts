import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AnyRig,
  anyRig,
  EVIDENCE,
  everyHeading,
  JOBS,
  logbookOf,
  NOW,
  type Vary,
} from '../../test/support/any-rig.ts';
import { judge as judgeOn } from '../../test/support/judge.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { threePasses } from '../../test/support/sound-rig.ts';
import type { Entry } from '../logbook/index.ts';
import { convert, dimensionOf, isUnitId, preferredUnit } from '../quantity/index.ts';
import type { Finding, Judgement, SendOff } from './index.ts';

const judge = (book: Logbook): SendOff => judgeOn(book, everyHeading, NOW, 'palouse', 16);
const RANK: Readonly<Record<Judgement, number>> = { clear: 0, limits: 1, hold: 2 };
const check = (law: (rig: AnyRig) => void, runs = 30): void => {
  fc.assert(fc.property(anyRig, law), { numRuns: runs });
};

/** The entry a finding asks for, written down as done well. */
function lift(book: Logbook, { takes }: Finding): Logbook {
  const entry = takes?.entry;
  switch (entry?.kind) {
    case 'work':
      return book.add('work', NOW, {
        done: entry.parts.map((part) => ({ upkeep: entry.upkeep, part, outcome: 'good', ...stamp(entry.upkeep) })),
      });
    case 'reading':
      return book.add('reading', NOW, { part: entry.part, what: entry.what, value: '62 psi', temperature: '20 degC' });
    case 'fit':
      return book.add('fit', NOW, { part: entry.part, kind: entry.partKind, isNew: true, madeOn: '2026-05' });
    case 'paper':
      return book.add('paper', NOW, { part: entry.part, goodThrough: '2028-01-01' });
    case 'weigh':
      return book.add('weigh', NOW, threePasses());
    case 'drill':
      return book.add('drill', NOW, { upkeep: entry.upkeep, part: entry.part, who: 'Ben', outcome: 'good' });
    default:
      throw new Error(`the finding names no entry that lifts it: ${JSON.stringify(takes)}`);
  }
}

/** Work on a thing that is good until a date says until when. */
const stamp = (upkeep: string): object =>
  everyHeading.upkeeps.get(upkeep)!.clocks.some((clock) => clock.kind === 'age') ? { goodThrough: '2031-06' } : {};

describe('the laws of the send-off', () => {
  it('every stop names what lifts it, and doing just that lifts it', () => {
    let stops = 0;
    check((rig) => {
      const book = logbookOf(rig);
      for (const stop of judge(book).findings.filter((finding) => finding.kind === 'stop')) {
        stops++;
        expect(stop.takes?.action).toBeTruthy();
        expect(stop.takes!.minutes).toBeGreaterThan(0);
        const after = judge(lift(book, stop)).findings.find((finding) => finding.id === stop.id);
        expect(`${stop.id}: ${after?.kind}`).not.toBe(`${stop.id}: stop`);
      }
    });
    expect(stops).toBeGreaterThan(50);
  });

  it('more evidence of health never worsens a judgement', () => {
    // Work that takes a wheel off bears follow-ups, which is more to do and no evidence of health alone.
    const proofs = JOBS.filter(([upkeep]) => everyHeading.upkeeps.get(upkeep)!.setups.length === 0);
    const healthy = (book: Logbook, which: number): Logbook => {
      const job = proofs[which];
      if (job) {
        const [upkeep, part] = job;
        if (everyHeading.upkeeps.get(upkeep)!.drill) {
          return book.add('drill', NOW, { upkeep, part, who: 'Ada', outcome: 'good' });
        }
        return book.add('work', NOW, { done: [{ upkeep, part, outcome: 'good', ...stamp(upkeep) }] });
      }
      const more: readonly ((logbook: Logbook) => Logbook)[] = [
        (logbook) => logbook.add('weigh', NOW, threePasses()),
        (logbook) => logbook.add('paper', NOW, { part: 'insurance', goodThrough: '2029-01-01' }),
        (logbook) => logbook.add('carry', NOW, { item: 'crank', aboard: true }),
        (logbook) =>
          logbook.add('reading', NOW, {
            part: 'spare',
            what: 'pressure-cold',
            value: '62 psi',
            temperature: '20 degC',
          }),
        (logbook) =>
          logbook.add('reading', NOW, {
            part: 'tire-1',
            what: 'pressure-cold',
            value: '62 psi',
            temperature: '20 degC',
          }),
      ];
      return more[which - proofs.length]!(book);
    };
    fc.assert(
      fc.property(anyRig, fc.integer({ min: 0, max: proofs.length + 4 }), (rig, which) => {
        const book = logbookOf(rig);
        const before = judge(book);
        const after = judge(healthy(book, which));
        expect(RANK[after.judgement]).toBeLessThanOrEqual(RANK[before.judgement]);
        const counted = (result: SendOff) => result.findings.filter((finding) => finding.counts === 'hold').length;
        expect(counted(after)).toBeLessThanOrEqual(counted(before));
      }),
      { numRuns: 60 },
    );
  });

  it('an older reading never improves a judgement', () => {
    fc.assert(
      fc.property(anyRig, fc.integer({ min: 1, max: 60 }), (rig, olderBy) => {
        const before = judge(logbookOf(rig));
        const after = judge(logbookOf(rig, { olderBy }));
        expect(RANK[after.judgement]).toBeGreaterThanOrEqual(RANK[before.judgement]);
      }),
      { numRuns: 40 },
    );
  });

  it('adding miles to a trip never turns hold into clear, nor a limit into none', () => {
    fc.assert(
      fc.property(anyRig, fc.integer({ min: 1, max: 4000 }), (rig, more) => {
        // More than the logbook believes of so many days would set the trip aside: no trip is not a longer one.
        const milesMore = Math.min(more, 2000 * (rig.days + 1) - rig.miles);
        const before = judge(logbookOf(rig));
        const after = judge(logbookOf(rig, { milesMore }));
        expect(RANK[after.judgement]).toBeGreaterThanOrEqual(RANK[before.judgement]);
      }),
      { numRuns: 60 },
    );
  });

  /** Of what is worse in one way: no judgment is milder, nor any finding that both have. */
  const neverMilder = (from: fc.Arbitrary<readonly [Vary, Vary]>, runs = 25): void => {
    fc.assert(
      fc.property(anyRig, from, (rig, [better, worse]) => {
        const [before, after] = [judge(logbookOf(rig, better)), judge(logbookOf(rig, worse))];
        expect(RANK[after.judgement]).toBeGreaterThanOrEqual(RANK[before.judgement]);
        const was = new Map(before.findings.map((finding) => [finding.id, finding]));
        for (const finding of after.findings) {
          const other = was.get(finding.id);
          if (other)
            expect(`${finding.id} ${WEIGHT[finding.counts] >= WEIGHT[other.counts]}`).toBe(`${finding.id} true`);
        }
      }),
      { numRuns: runs },
    );
  };
  const WEIGHT = { nothing: 0, limits: 1, hold: 2 } as const;
  const steps = (of: keyof Vary, least: number, most: number, from: Vary = {}) =>
    fc.integer({ min: least, max: most }).map((value) => [from, { [of]: value }] as const);

  it('more load never makes anything milder', () => neverMilder(steps('poundsMore', 1, 3000)));

  it('less pressure never makes anything milder', () => neverMilder(steps('psiLess', 1, 30, { psiLess: 0 })));

  it('warmer air at the same gauge figure never makes anything milder', () => neverMilder(steps('warmerBy', 1, 40)));

  it('older parts never make anything milder', () => neverMilder(steps('yearsMore', 1, 8)));

  it('a job found wrong never makes anything milder', () => neverMilder(steps('wrong', 0, JOBS.length - 1)));

  it('evidence of health left out never improves the judgment', () => {
    fc.assert(
      fc.property(anyRig, fc.integer({ min: 0, max: EVIDENCE - 1 }), (rig, without) => {
        const [before, after] = [judge(logbookOf(rig)), judge(logbookOf(rig, { without }))];
        expect(RANK[after.judgement]).toBeGreaterThanOrEqual(RANK[before.judgement]);
      }),
      { numRuns: 40 },
    );
  });

  it('the judgement is the same in every unit system', () => {
    check((rig) => {
      const book = logbookOf(rig);
      const metric = new Logbook(book.entries.map(inMetric)).add('set', NOW, { key: 'units', value: 'metric' });
      const kinds = (result: SendOff) => result.findings.map((finding) => [finding.id, finding.kind]).sort();
      expect(kinds(judge(metric))).toEqual(kinds(judge(book)));
      expect(judge(metric).judgement).toBe(judge(book).judgement);
    });
  });

  it('an empty logbook is a hold', () => {
    check((rig) => {
      const trip = logbookOf(rig).last.body as Record<string, unknown>;
      const empty = new Logbook().add('enroll', NOW, { vehicle: 'trailer', name: 'Marigold' }).add('trip', NOW, trip);
      const result = judge(empty);
      expect(result.judgement).toBe('hold');
      expect(result.firstStep).toBeTruthy();
      expect(result.findings.every((finding) => finding.kind === 'unproven')).toBe(true);
    }, 20);
  });

  it('every finding states its evidence and its sources, every one but a pass what it takes', () => {
    check((rig) => {
      const book = logbookOf(rig);
      const known = new Set(book.entries.map((entry) => entry.id));
      const ids = judge(book).findings.map((finding) => {
        expect(finding.evidence.filter((id) => !known.has(id))).toEqual([]);
        expect(finding.kind === 'pass' || finding.takes !== null).toBe(true);
        expect(finding.kind === 'pass' || finding.sources.length > 0).toBe(true);
        expect(finding.text).toMatch(/\.$/);
        return finding.id;
      });
      expect(new Set(ids).size).toBe(ids.length);
    });
  });
});

/** Every quantity of an entry in the metric unit one would use in its place. */
function inMetric(entry: Entry): Entry {
  const change = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(change);
    if (typeof value !== 'object' || value === null) return value;
    const record = value as Record<string, unknown>;
    const { value: amount, unit } = record;
    if (typeof amount === 'number' && typeof unit === 'string' && isUnitId(unit)) {
      return convert({ value: amount, unit }, preferredUnit(dimensionOf(unit), 'metric', unit));
    }
    return Object.fromEntries(Object.entries(record).map(([key, inner]) => [key, change(inner)]));
  };
  return { ...entry, body: change(entry.body) } as Entry;
}
