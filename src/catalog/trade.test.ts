import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { type Clock, kitReasons } from './index.ts';

/**
 * What the trade asks of an owner-mechanic, item by item, each with the document it was read in or "common practice". The texts are
 * ours; these tests hold the fact, not the wording.
 */
const catalog = shippedCatalog();
const upkeep = (id: string) => catalog.upkeeps.get(id)!;
const mishap = (id: string) => catalog.mishaps.get(id)!;
const stepsOf = (id: string): string =>
  (catalog.upkeeps.get(id) ?? catalog.mishaps.get(id) ?? catalog.setups.get(id))!.steps.join('\n');
const clockOf = <K extends Clock['kind']>(id: string, kind: K) =>
  upkeep(id).clocks.find((clock): clock is Clock & { kind: K } => clock.kind === kind);
const kindsOf = (id: string): string[] => [...upkeep(id).clocks.map(({ kind }) => kind)].sort();

describe('wheels and hubs', () => {
  // RV technicians' school, bearing advice: under 150 °F, and 20 to 30 °F above the others wants work.
  it('fail a hub by its heat, and by its difference from the coolest', () => {
    for (const id of ['check-hub-heat', 'hot-hub']) {
      expect(stepsOf(id)).toMatch(/150 °F/);
      expect(stepsOf(id)).toMatch(/30 °F above the coolest/);
    }
    expect(upkeep('check-hub-heat').readings[0]!.limit).toBe('150 °F at most');
  });

  // Infrared thermometer makers' handbooks: shiny metal reads wrong; measure on masking tape or flat black paint.
  it('warn that bright metal misleads an infrared thermometer', () => {
    for (const thing of [upkeep('check-hub-heat'), mishap('hot-hub')])
      expect(thing.cautions.join('\n')).toMatch(/bright metal.*far too low.*black paint.*tape/i);
  });

  // Bri-Mar and Trailmax manuals after the axle maker's text: repack at once after any immersion.
  it('are asked whether they were under water, and repacking is what lifts it', () => {
    expect(upkeep('check-hub-immersion')).toMatchObject({
      part: 'wheel-bearings',
      severity: 'safety',
      restores: false,
    });
    expect(upkeep('repack-bearings').covers).toContain('check-hub-immersion');
    expect(upkeep('repack-bearings').cautions.join('\n')).toMatch(/under water/);
    for (const id of ['flood', 'wheel-gone']) expect(mishap(id).preventedBy).toContain('check-hub-immersion');
  });

  // Lippert Components axle manual, Wells Cargo, nuCamp: 10, 25 and 50 miles after a wheel was off.
  it.each(['flat-tire', 'blowout', 'wheel-nuts-loose', 'wheel-gone', 'hot-hub', 'renew-tire-by-age', 'rotate-tires'])(
    'are torqued again at 10, 25 and 50 miles on the sheet of %s',
    (id) => {
      for (const figure of ['10 mi', '25 mi', '50 mi']) expect(stepsOf(id)).toContain(figure);
    },
  );

  // Axle maker's service list: brake adjustment at three months; Felling: 200 miles, then each 3,000.
  it('have their brakes adjusted by months, too, and new ones at 200 miles', () => {
    expect(kindsOf('adjust-brakes')).toEqual(['after', 'miles', 'months']);
    expect(clockOf('adjust-brakes', 'months')!.every).toBe(3);
    expect(clockOf('adjust-brakes', 'after')).toMatchObject({ fitted: true, atMiles: [{ value: 200, unit: 'mi' }] });
  });

  // Common practice: bearings are washed in solvent, with eyes and hands covered, and wiped with clean rags.
  it('are opened with solvent, rags and goggles', () => {
    const { tools, consumables } = upkeep('repack-bearings');
    for (const id of ['goggles', 'gloves-chemical', 'rags']) expect(tools).toContain(id);
    expect(consumables.map(({ what }) => what).join()).toMatch(/solvent/);
  });
});

describe('water', () => {
  // The dose of a system: 1/4 cup for each 15 gal (trailer handbook), of all that holds water: tank, lines, heater unless bypassed.
  it('is dosed by the whole system', () => {
    expect(stepsOf('sanitize-water')).toMatch(/tank, lines, and heater unless bypassed/);
    expect(upkeep('sanitize-water').consumables[0]!.quantity).toMatch(/tank, lines and heater/);
    // CDC Vessel Sanitation Program 5.3.4.1.4: at least 50 mg/L for four hours.
    expect(stepsOf('sanitize-water')).toMatch(/50 ppm/);
    expect(stepsOf('sanitize-water')).toMatch(/4 h/);
  });
});

describe('leaving and arriving', () => {
  // Common practice: nothing of the camp may hang out of the rig when it rolls.
  it.each([
    ['stabilizers', 'raise-stabilizers'],
    ['entry-steps', 'fold-steps'],
    ['antenna', 'lower-antenna'],
    ['vent-fan', 'close-vents'],
    ['tow-receiver', 'check-pin-and-clip'],
    ['weight-distribution-hitch', 'check-bars-and-clips'],
    ['slide-out', 'lock-slides'],
    ['waste-system', 'stow-hoses'],
  ])('closes up %s before every departure', (part, id) => {
    expect(upkeep(id).part).toBe(part);
    expect(clockOf(id, 'departure')!.withinDays).toBe(0);
  });

  // Common practice; the voltages are ANSI C84.1's (from memory).
  it('tests pedestal and skin at hook-up, between the two voltages', () => {
    const text = stepsOf('test-pedestal');
    for (const said of ['108 V', '127 V', 'polarity', 'door handle']) expect(text).toContain(said);
    expect(upkeep('test-pedestal').severity).toBe('safety');
  });

  it('looks over the gas pipe under the floor and the hoses behind the appliances', () => {
    expect(stepsOf('inspect-gas-piping')).toMatch(/under the floor/);
    expect(stepsOf('inspect-gas-piping')).toMatch(/behind each appliance/);
  });

  it('looks after the tow vehicle’s tread, spare, jack and wheel nuts, and the trailer’s shocks', () => {
    const ids = [
      'inspect-tow-tire',
      'set-tow-spare-pressure',
      'check-tow-jack-kit',
      'check-tow-wheel-nuts',
      'inspect-shocks',
    ];
    for (const id of ids) expect(catalog.upkeeps.has(id), id).toBe(true);
    expect(stepsOf('inspect-tow-tire')).toMatch(/2\/32 in/);
  });
});

describe('alarms', () => {
  const alarms = [...catalog.upkeeps.values()].filter(({ part }) => /-alarm$/.test(part));

  // Common practice: the lamp shows power; alarm makers' handbooks: the date on the back governs.
  it('say at every one of them that the lamp shows power only and that age decides', () => {
    expect(alarms.length).toBeGreaterThanOrEqual(12);
    for (const { id, cautions } of alarms)
      expect(cautions.join('\n'), id).toMatch(/lamp says .*power.*not .*sense.*age decides/);
  });

  it('may be one unit for carbon monoxide and gas, with the shorter life of both', () => {
    const [co, lp, both] = ['renew-co-alarm', 'renew-lp-alarm', 'renew-co-lp-alarm'].map(
      (id) => clockOf(id, 'age')!.by!,
    );
    expect(both).toBe(Math.min(co!, lp!));
    for (const id of ['co-alarm-sounding', 'lp-alarm-sounding']) expect(mishap(id).parts).toContain('co-lp-alarm');
  });
});

describe('tongue jack, spare and chocks', () => {
  // Common practice: a plug in the top, or a motor head on set screws (5/32 in on some) and a crank with a cross pin.
  it('asks how the jack is driven by hand, with which key and which crank', () => {
    const { facts, identify } = catalog.partKinds.get('tongue-jack')!;
    expect(Object.keys(facts)).toEqual(expect.arrayContaining(['manualDrive', 'key', 'crank']));
    expect(identify.join('\n')).toMatch(/plug in the top.*motor head.*set screws/);
    expect(facts.key).toMatch(/5\/32 in/);
  });

  it.each(['practise-jack-by-hand', 'jack-dead'])('has steps for each kind in %s, fuse out first', (id) => {
    const steps = stepsOf(id).split('\n');
    const at = (words: RegExp): number => steps.findIndex((step) => words.test(step));
    for (const kind of [/Plug in the top/, /Motor head: .*set screws.*hex key/, /cross pin/])
      expect(at(kind)).toBeGreaterThan(-1);
    expect(at(/fuse/)).toBeLessThan(at(/Plug in the top/));
  });

  it('counts key and crank in the kit', () => {
    const reasons = kitReasons(catalog, [...catalog.mishaps.values()], catalog.upkeeps.keys(), [
      'hex-keys',
      'crank-jack',
    ]);
    for (const { mishaps, upkeeps, item } of reasons) {
      expect(mishaps, item).toContain('jack-dead');
      expect(upkeeps, item).toContain('practise-jack-by-hand');
    }
    expect(stepsOf('lubricate-tongue-jack')).toMatch(/pin inside as the ball is greased/);
  });

  it('brings a spare down from a pinned carrier: cotter, oil on the post, needle-nose pliers', () => {
    const text = stepsOf('practise-lowering-spare');
    for (const said of [/cotter/, /post/, /needle-nose pliers/, /oil/]) expect(text).toMatch(said);
    expect(mishap('flat-tire').tools).toContain('pliers');
    expect(mishap('flat-tire').spares).toContain('penetrating-oil');
    expect(catalog.kit.get('pliers')!.name).toMatch(/needle-nose/);
  });

  it('takes chocks with a date by it, and chocks without one by their state', () => {
    expect(clockOf('renew-chocks', 'age')).toMatchObject({ label: 'required' });
    expect(kindsOf('inspect-undated-chocks')).toEqual(['months']);
    for (const id of ['chocks', 'chocks-undated']) expect(catalog.partKinds.get(id)!.expected, id).toBe('chocks');
  });

  // Common practice: an outlet of a tow vehicle often gives 400 W; its handbook decides.
  it('compares the compressor with the outlet of the tow vehicle', () => {
    expect(clockOf('check-compressor-outlet', 'limit')).toMatchObject({
      reading: 'compressor-power',
      side: 'above',
      limitFact: 'powerParked',
    });
    expect(stepsOf('check-compressor-outlet')).toContain('400 W');
    expect(catalog.partKinds.get('tow-outlet')!.factUnits).toMatchObject({ powerParked: 'W', powerMoving: 'W' });
  });
});

describe('mishaps', () => {
  const added = [
    'wheel-gone',
    'tow-flat',
    'tow-no-start',
    'low-bridge',
    'storm',
    'flood',
    'wildfire',
    'rig-stuck',
    'medical',
    'frozen-pipes',
    'jackknife',
  ];

  // Common practice: what ends a day on the road beside flats and brakes.
  it.each(added)('%s has its first minute, its steps, when not to tow on, and whom to call', (id) => {
    const { firstMinute, steps, doNotTowIf, call, cautions, preventedBy } = mishap(id);
    for (const list of [firstMinute, doNotTowIf, call, cautions, preventedBy]) expect(list.length).toBeGreaterThan(0);
    expect(steps.length).toBeGreaterThan(5);
  });

  it('send people away from traffic before anything else where a lane is near', () => {
    for (const id of ['wheel-gone', 'tow-flat', 'jackknife', 'flat-tire'])
      expect(mishap(id).firstMinute.join('\n'), id).toMatch(/people out on the side away from traffic/);
  });

  it('never keep people with the rig: fire, flood and tornado are left', () => {
    expect(mishap('storm').firstMinute.join('\n')).toMatch(/Leave the trailer for a solid building/);
    expect(mishap('flood').firstMinute.join('\n')).toMatch(/do not drive into water/);
    expect(mishap('wildfire').firstMinute.join('\n')).toMatch(/Leave at the first notice/);
  });
});

describe('minutes', () => {
  // Common practice: each wheel is jacked, taken off and opened on its own; a roof resealed in full is a day or two.
  it('count wheels one by one, and give a whole day to a roof', () => {
    for (const id of ['trailer-jacked', 'wheel-off', 'hub-open'])
      expect(catalog.setups.get(id)!.minutesEach, id).toBeGreaterThan(3);
    expect(upkeep('reseal-roof').minutes).toBeGreaterThanOrEqual(8 * 60);
  });
});
