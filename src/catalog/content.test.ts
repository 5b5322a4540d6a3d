import files from 'virtual:catalog-files';
import { describe, expect, it } from 'vitest';
import { problemText, unwrap } from '../problem/index.ts';
import { catalogCheck, clockText, hazardsOf, loadCatalog, seasonUpkeeps } from './index.ts';
import { figuresInText } from './traces.ts';

const catalog = unwrap(loadCatalog(files));
const upkeeps = [...catalog.upkeeps.values()];
const mishaps = [...catalog.mishaps.values()];

describe('the catalog', () => {
  it('holds at least 110 upkeeps and 18 mishaps, over every severity and every kind of clock', () => {
    expect(upkeeps.length).toBeGreaterThanOrEqual(110);
    expect(mishaps.length).toBeGreaterThanOrEqual(18);
    expect(new Set(upkeeps.map(({ severity }) => severity)).size).toBe(3);
    const clocks = new Set(upkeeps.flatMap((upkeep) => upkeep.clocks.map(({ kind }) => kind)));
    expect([...clocks].sort()).toEqual([
      'after',
      'age',
      'departure',
      'hours',
      'limit',
      'miles',
      'months',
      'nights',
      'season',
    ]);
  });

  it('covers every chapter', () => {
    const groups = new Set(upkeeps.map(({ part }) => catalog.partKinds.get(part)!.group));
    for (const group of [
      'running gear',
      'brakes',
      'hitch and coupling',
      'LP gas',
      '12 V',
      '120 V',
      'water',
      'heating and cooling',
    ]) {
      expect(groups).toContain(group);
    }
    for (const group of ['roof and body', 'doors and slides', 'safety devices', 'papers', 'storage', 'tow vehicle']) {
      expect(groups).toContain(group);
    }
  });

  it('has the mishaps that happen', () => {
    const ids = mishaps.map(({ id }) => id);
    const usual = [
      'flat-tire',
      'blowout',
      'hot-hub',
      'wheel-nuts-loose',
      'brakes-weak',
      'breakaway-pulled',
      'lights-dead',
      'jack-dead',
    ];
    const aboard = [
      'coupler-stuck',
      'gas-smell',
      'lp-alarm-sounding',
      'co-alarm-sounding',
      'no-12v',
      'no-shore-power',
      'water-leak',
    ];
    expect(ids).toEqual(
      expect.arrayContaining([...usual, ...aboard, 'slide-stuck', 'awning-stuck', 'roof-leak', 'tow-overheating']),
    );
  });

  it('has a drill for each that wants hands that know', () => {
    const drills = upkeeps.filter(({ drill }) => drill);
    for (const id of [
      'practise-lowering-spare',
      'practise-jack-by-hand',
      'practise-wheel-change',
      'practise-shutting-gas',
      'practise-breakaway',
    ]) {
      expect(drills.map((drill) => drill.id)).toContain(id);
    }
    for (const drill of drills) expect(drill.restores, drill.id).toBe(false);
  });

  it('never leaves gas, 120 V, jacking or brakes without a caution, in upkeeps and their set-ups', () => {
    for (const upkeep of upkeeps) {
      if (hazardsOf(catalog, upkeep).size > 0) expect(upkeep.cautions.length, upkeep.id).toBeGreaterThan(0);
    }
    const jacked = upkeeps.filter((upkeep) => hazardsOf(catalog, upkeep).has('jacking'));
    expect(jacked.length).toBeGreaterThan(15);
  });

  it('guesses no jacking point: whatever lifts the trailer asks the handbook', () => {
    expect(catalog.setups.get('trailer-jacked')!.needsFacts).toContain('jacking-point');
    for (const upkeep of upkeeps.filter(({ setups }) => setups.includes('wheel-off')))
      expect(upkeep.setups).toContain('trailer-jacked');
    for (const mishap of mishaps.filter(
      ({ hazards, tools }) => hazards?.includes('jacking') && tools.includes('jack-bottle'),
    )) {
      if (!['coupler-off', 'jack-dead'].includes(mishap.id))
        expect(mishap.needsFacts, mishap.id).toContain('jacking-point');
    }
    for (const fact of catalog.rigFacts!.values()) expect(fact.disagree.length).toBeGreaterThan(1);
    for (const id of ['jacking-point', 'tongue-share', 'slide-lubricant']) expect(catalog.rigFacts!.has(id)).toBe(true);
  });

  it('takes the shortest published life where makers disagree and a life is at stake', () => {
    for (const id of ['renew-co-alarm', 'renew-lp-alarm', 'renew-lp-regulator', 'renew-smoke-alarm']) {
      const age = catalog.upkeeps.get(id)!.clocks.find(({ kind }) => kind === 'age');
      expect(age, id).toMatchObject({ kind: 'age', label: 'governs' });
      expect(age!.kind === 'age' && age!.by, id).toBe(age!.range![0]);
    }
  });

  it('offers a way to go with limits only with a source', () => {
    const ways = upkeeps.filter(({ goWithLimits }) => goWithLimits !== undefined);
    expect(ways.length).toBeGreaterThan(3);
    for (const { goWithLimits } of ways) expect(catalog.sources.has(goWithLimits!.source)).toBe(true);
    expect(catalog.upkeeps.get('test-lights')!.goWithLimits).toBeUndefined();
  });

  it('says what to look at when nothing is on record, for every upkeep', () => {
    for (const { id, look, steps, why } of upkeeps) {
      expect(look.length, id).toBeGreaterThan(7);
      expect(steps.length, id).toBeGreaterThan(0);
      expect(why.trim(), id).toMatch(/[.!]$/);
    }
  });

  it('leaves nothing to doubt but state law, which nobody can read for every state', () => {
    const doubts = catalogCheck(catalog).filter(({ where }) => where !== 'source state-law');
    expect(doubts.map(problemText)).toEqual([]);
  });

  it('orders spring from battery to papers and autumn from washing to the winter’s visits', () => {
    const spring = seasonUpkeeps(catalog, 'spring').map(({ id }) => id);
    const order = [
      'charge-house-battery',
      'test-gfci',
      'test-co-alarm',
      'test-gas-leak-drop',
      'sanitize-water',
      'flush-water-heater',
      'inspect-roof',
      'check-wheel-nuts',
      'test-breakaway',
      'weigh-rig',
    ];
    expect(spring.filter((id) => order.includes(id))).toEqual(order);
    const autumn = seasonUpkeeps(catalog, 'autumn').map(({ id }) => id);
    const laying = [
      'wash-body',
      'inspect-roof',
      'rinse-waste-tanks',
      'lay-up-water',
      'check-refrigerator-vents',
      'keep-battery-charged',
      'proof-against-mice',
      'park-for-winter',
      'walk-round-in-storage',
    ];
    expect(autumn.filter((id) => laying.includes(id))).toEqual(laying);
  });

  it('puts each clock in words', () => {
    for (const { id, clocks } of upkeeps)
      for (const clock of clocks) expect(clockText(clock), id).not.toMatch(/undefined|NaN|\[object/);
    const texts = (id: string) => catalog.upkeeps.get(id)!.clocks.map(clockText);
    expect(texts('repack-bearings')).toEqual(['every 12,000 mi', 'every 12 months']);
    expect(texts('retorque-wheel-nuts')).toEqual(['10, 25 and 50 mi after set-up `wheel-off`']);
    expect(texts('renew-tire-by-age')).toEqual([
      'worth it from 5 years, by 6 years after it was made; LT sizes from 6 years, by 10 years; a date on its label governs',
    ]);
    expect(texts('renew-chocks')).toEqual(['by the date on its label, and by nothing else']);
    expect(texts('set-tire-pressure')).toContain('when pressure-cold is below its `pressureColdMin`');
    expect(texts('check-chains')).toEqual(['before each departure, the same day']);
    expect(texts('lay-up-water')).toEqual(['before the first freeze of autumn']);
  });
});

describe('figuresInText', () => {
  it('finds measured values and leaves names of systems alone', () => {
    const found = (text: string) => figuresInText(text).map(({ value, unit }) => `${value} ${unit}`);
    expect(found('Blow out at 30 psi, never above 50 psi.')).toEqual(['30 psi', '50 psi']);
    expect(found('Torque to 110 lb-ft, then drive 25 miles.')).toEqual(['110 lb-ft', '25 mi']);
    expect(found('At 2/32 in of tread or after 10 years.')).toEqual(['0.0625 in', '10 year']);
    expect(found('The 12 V fuse and the 120 V breaker; rested 12.4 V.')).toEqual(['12.4 V']);
    expect(found('Socket no. 2 and two people.')).toEqual([]);
  });
});

describe('catalogCheck', () => {
  it('doubts a figure in the text that no entry gives', () => {
    const upkeep = catalog.upkeeps.get('rotate-tires')!;
    const doubtful = new Map(catalog.upkeeps).set(upkeep.id, { ...upkeep, steps: ['Torque to 95 lb-ft.'] });
    expect(catalogCheck({ ...catalog, upkeeps: doubtful }).map(({ code }) => code)).toContain(
      'catalog.figure-untraced',
    );
  });

  it('doubts what nothing refers to, a mishap without a drill or prevention, a drift the wrong way, an idle part', () => {
    const mishap = catalog.mishaps.get('gas-smell')!;
    const { drill: _drill, ...undrilled } = mishap;
    const pressure = catalog.upkeeps.get('set-tire-pressure')!;
    const clocks = pressure.clocks.map((clock) => (clock.kind === 'limit' ? { ...clock, driftPerMonth: 2 } : clock));
    const codes = catalogCheck({
      ...catalog,
      kit: new Map(catalog.kit).set('anvil', { id: 'anvil', name: 'Anvil', kind: 'tool', weightLb: 100, cost: 100 }),
      mishaps: new Map(catalog.mishaps).set('gas-smell', { ...undrilled, preventedBy: [] }),
      upkeeps: new Map(catalog.upkeeps).set(pressure.id, { ...pressure, clocks: [...clocks, clocks[1]!] }),
      upkeepsOf: new Map(catalog.upkeepsOf).set('frame', []),
    }).map(({ code }) => code);
    for (const code of [
      'unreferred',
      'mishap-undrilled',
      'mishap-unprevented',
      'drift-away',
      'clock-twice',
      'part-idle',
    ]) {
      expect(codes).toContain(`catalog.${code}`);
    }
  });

  it('doubts one name for two kinds of reading', () => {
    const upkeep = catalog.upkeeps.get('weigh-lp-cylinder')!;
    const readings = [{ what: 'pressure-cold', unit: 'lb' }];
    const upkeeps = new Map(catalog.upkeeps).set(upkeep.id, { ...upkeep, readings });
    expect(catalogCheck({ ...catalog, upkeeps }).map(({ code }) => code)).toContain('catalog.reading-two-ways');
  });
});
