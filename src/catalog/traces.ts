import type { Problem } from '../problem/index.ts';
import { parseQuantity, type Quantity, valueIn } from '../quantity/index.ts';
import type { Catalog, Clock, Figure, Mishap, SetUp, Upkeep } from './types.ts';

/** A number with a unit, as it stands in running text. */
const FIGURE =
  /(?<![\w/.-])(\d[\d,]*(?:\.\d+)?(?:[ -]\d+\/\d+|\/\d+)?)\s?(psi|lb-ft|lb-in|N·m|in\. w\.c\.|ppm|mph|lb|mi(?:les?)?|°[FC]|volts?|V|A|%|gal|hours?|h|min(?:utes?)?|months?|years?|in|ft)(?![\w·])/g;

/** Names of systems, not measured values. */
const NAMES = /\b(12|120) V\b/g;

/** Every quantity named in a text. */
export function figuresInText(text: string): Quantity[] {
  return [...text.replaceAll(NAMES, '').matchAll(FIGURE)].flatMap(([whole]) => {
    const read = parseQuantity(whole);
    return read.ok ? [read.value] : [];
  });
}

/** A text says `30 °F` of a temperature and of a difference alike. */
const SAID: Readonly<Partial<Record<Quantity['unit'], Quantity['unit']>>> = { deltaF: 'degF', deltaK: 'degC' };

function same(a: Quantity, b: Quantity): boolean {
  try {
    return Math.abs(valueIn(a, SAID[b.unit] ?? b.unit) - b.value) <= 1e-6 * Math.max(1, Math.abs(b.value));
  } catch {
    return false;
  }
}

const ofFigures = (figures: readonly Figure[] | undefined): Quantity[] =>
  (figures ?? []).flatMap(({ is, from, to }) => [is, from, to].filter((one) => one !== undefined));

function ofClock(clock: Clock): Quantity[] {
  const months = (value: number | undefined): Quantity[] => (value === undefined ? [] : [{ value, unit: 'month' }]);
  switch (clock.kind) {
    case 'miles':
      return [clock.every];
    case 'months':
      return months(clock.every);
    case 'age':
      return [...months(clock.from), ...months(clock.by)];
    case 'hours':
      return [{ value: clock.every, unit: 'h' }];
    case 'after':
      return [...clock.atMiles];
    case 'limit':
      return clock.limit === undefined ? [] : [clock.limit];
    default:
      return [];
  }
}

const sourcedOf = {
  upkeep: (upkeep: Upkeep) => [
    ...ofFigures(upkeep.figures),
    ...upkeep.clocks.flatMap(ofClock),
    ...upkeep.readings.flatMap((reading) => figuresInText(reading.limit ?? '')),
  ],
  'set-up': (setup: SetUp) => ofFigures(setup.figures),
  mishap: (mishap: Mishap) => ofFigures(mishap.figures),
};

/** Figures in steps, cautions and the like that no sourced entry of the same item gives. */
export function untracedFigures(catalog: Catalog): Problem[] {
  const check = (where: string, texts: readonly string[], sourced: readonly Quantity[]): Problem[] =>
    texts.flatMap(figuresInText).flatMap((found) => {
      if (sourced.some((one) => same(found, one))) return [];
      const what = `The text says ${found.value} ${found.unit}, and no entry says where that comes from`;
      return [
        { code: 'catalog.figure-untraced', what, where, expected: 'the figure under `figures`, with its source' },
      ];
    });
  return [
    ...[...catalog.upkeeps.values()].flatMap((u) =>
      check(`upkeep ${u.id}`, [u.why, u.look, ...u.steps, ...u.cautions], sourcedOf.upkeep(u)),
    ),
    ...[...catalog.setups.values()].flatMap((s) =>
      check(`set-up ${s.id}`, [...s.steps, ...s.cautions], sourcedOf['set-up'](s)),
    ),
    ...[...catalog.mishaps.values()].flatMap((m) =>
      check(
        `mishap ${m.id}`,
        [...m.signs, ...m.firstMinute, ...m.steps, ...m.doNotTowIf, ...m.cautions],
        sourcedOf.mishap(m),
      ),
    ),
  ];
}
