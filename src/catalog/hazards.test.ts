import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { type Hazard, hazardsOf, loadCatalog, withOverrides } from './index.ts';

const catalog = shippedCatalog();
const upkeeps = [...catalog.upkeeps.values()];
const mishaps = [...catalog.mishaps.values()];
const setups = [...catalog.setups.values()];
const things = [...upkeeps, ...mishaps, ...setups];

/** What a caution must say of each hazard, in our own words here: common practice, no source. */
const SAYS: Readonly<Record<Hazard, RegExp>> = {
  jacking: /\bstands?\b|\bjack/i,
  rolling: /chock|parking brake|held by people/i,
  brakes: /walking pace|brake dust|prove/i,
  'LP gas': /\bgas\b|cylinder|flame/i,
  'carbon monoxide': /carbon monoxide|outdoors|headache/i,
  '120 V': /120 V|breaker|electrician|capacitor|pedestal/i,
  'acid and sparks': /acid|spark|goggles|flame|rings/i,
  'stored force': /spring|slam|crush|force|let go|lets go|under load/i,
  'moving parts': /itself|spin|\bfans?\b|power off|\bruns\b|\bmov|motor|rocking|fingers|start/i,
  heights: /ladder|fall|drops/i,
  heat: /hot\b|burn|scald|cool|cold|heat/i,
  chemicals: /gloves|fumes|vapor|bleach|poison|ammonia|\bair\b/i,
  eyes: /goggles/i,
  dust: /respirator|wet/i,
  traffic: /traffic|\blane|vest|shoulder/i,
  'heavy lifting': /\blift|heavy|weighs|\bfeet\b|\bfoot\b|tongue/i,
  pinching: /finger|\bhands?\b|wrist/i,
  slipping: /slip/i,
  'tire pressure': /sidewall|line|let air out|cold/i,
  pressure: /pressure|shoots|burst|aside/i,
  fuel: /fuel|gasoline|vapor/i,
  fire: /fire|flame|everybody out/i,
  'road test': /empty place|nobody walk/i,
  sewage: /gloves|wash/i,
  weather: /leave|wait|away|lightning|wind|water/i,
};

describe('hazards', () => {
  it('are named by every upkeep, set-up and mishap, or there are said to be none', () => {
    expect(things.filter(({ hazards }) => hazards === undefined).map(({ id }) => id)).toEqual([]);
  });

  it('each have a caution at the work that speaks of them', () => {
    const silent = [
      ...upkeeps.map((upkeep) => ({
        id: upkeep.id,
        cautions: upkeep.cautions,
        hazards: [...hazardsOf(catalog, upkeep)],
      })),
      ...[...mishaps, ...setups].map(({ id, cautions, hazards }) => ({ id, cautions, hazards: hazards ?? [] })),
    ].flatMap(({ id, cautions, hazards }) =>
      hazards.filter((hazard) => !cautions.some((caution) => SAYS[hazard].test(caution))).map((h) => `${id}: ${h}`),
    );
    expect(silent).toEqual([]);
  });

  it('do not let a job near a danger say that it has none', () => {
    // What the steps tell somebody to touch gives the danger away, whatever the author thought of it. Common practice.
    const gives: readonly (readonly [RegExp, readonly Hazard[]])[] = [
      [/\bladder\b/i, ['heights']],
      [/\bon stands\b|\bbottle jack\b/i, ['jacking']],
      [/\bbleach\b|\bsolvent\b|\bantifreeze into\b/i, ['chemicals']],
      [/\brelief lever\b/i, ['heat', 'pressure']],
      [/\bbattery posts\b/i, ['acid and sparks', '120 V']],
      [/\bhubs?\b.*\bhot\b|\bexhaust\b/i, ['heat', 'carbon monoxide', 'LP gas']],
      [/\bgenerator\b/i, ['carbon monoxide', '120 V', 'fuel', 'LP gas']],
      [/\bcylinder valve\b|\bleak solution\b/i, ['LP gas']],
      [/\bspring awning\b/i, ['stored force']],
      [/\bgoggles on\b/i, ['eyes', 'chemicals', 'heat', 'acid and sparks', 'sewage']],
    ];
    const careless = things.flatMap((thing) => {
      const own = 'part' in thing ? [...hazardsOf(catalog, thing)] : (thing.hazards ?? []);
      return gives
        .filter(([words, hazards]) => words.test(thing.steps.join('\n')) && !hazards.some((one) => own.includes(one)))
        .map(([words]) => `${thing.id}: ${words.source}`);
    });
    expect(careless).toEqual([]);
  });

  it('are spoken of once: a standing caution is added only where the own ones are silent', () => {
    const text = `
hazards:
  - { id: heights, caution: Tie the ladder., speaks: [ladder] }
  - { id: eyes, caution: Goggles on., speaks: [goggles] }
sources:
  - { id: s, kind: common practice, seen: memory, title: Habit }
parts:
  - { id: p, name: P, group: g, per: rig }
upkeeps:
  - id: u
    title: Do it
    part: p
    why: So.
    severity: comfort
    clocks: [{ kind: months, every: 1, source: s }]
    restores: true
    minutes: 1
    skill: owner
    place: home
    failure: { cost: 1, steepness: 1, consequence: None }
    hazards: [heights, eyes]
    steps: [Do it.]
    cautions: [Somebody holds the ladder.]
    look: Look.
`;
    const read = loadCatalog([{ name: 'all.yaml', text }]);
    expect(read.ok && read.value.upkeeps.get('u')!.cautions).toEqual(['Somebody holds the ladder.', 'Goggles on.']);
    expect(read.ok && read.value.upkeepsOf.get('p')![0]!.cautions).toHaveLength(2);
  });

  it('of a part count for an owner’s own upkeep that names none', () => {
    const value = {
      title: 'Look behind the furnace',
      severity: 'comfort',
      part: 'furnace',
      source: 'My habit',
      clocks: [{ kind: 'months', every: 6 }],
      minutes: 5,
      failureCost: 10,
      cautions: ['Mind the sharp edge.'],
    };
    const { catalog: own, problems } = withOverrides(catalog, [{ key: 'own-upkeep/look-behind', value }]);
    expect(problems).toEqual([]);
    const cautions = own.upkeeps.get('look-behind')!.cautions;
    expect(cautions[0]).toBe('Mind the sharp edge.');
    for (const hazard of ['LP gas', 'heat'] as const) expect(cautions.some((one) => SAYS[hazard].test(one))).toBe(true);
  });
});

describe('steps', () => {
  const steps = [
    ...things.flatMap(({ id, steps }) => steps.map((step) => ({ id, step }))),
    ...mishaps.flatMap(({ id, firstMinute }) => firstMinute.map((step) => ({ id, step }))),
  ];

  it('are at most twelve words', () => {
    expect(steps.filter(({ step }) => step.split(/\s+/).length > 12)).toEqual([]);
  });

  it('are orders: none begins as a statement does', () => {
    const statement =
      /^(The|A|An|It|Its|This|These|They|There|That|Some|Any|Each|Every|All|No|Nobody|Nothing|Both|Most|You|If|When|Where|With|On|At|In|From|After|Before)\b(?![^.]*: )/;
    expect(steps.filter(({ step }) => statement.test(step))).toEqual([]);
  });

  it('end as a sentence', () => {
    expect(steps.filter(({ step }) => !/[.!]$/.test(step))).toEqual([]);
  });

  it('never ask anybody to jump on anything', () => {
    // Common practice: a step is tested with slow weight and a hand on the rail, a nut with a torque wrench.
    const texts = things.flatMap((thing) => [...thing.steps, 'look' in thing ? thing.look : '']);
    expect(texts.filter((text) => /\bjump on\b/i.test(text))).toEqual([]);
  });
});
