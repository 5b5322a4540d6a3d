import type { Problem } from '../problem/index.ts';
import { dimensionOf } from '../quantity/index.ts';
import type { Path } from './document.ts';
import type { Clock, PartKind, Upkeep } from './types.ts';
import { dimensionOfUnit } from './unit.ts';

/** Every source that a clock names. */
export const sourcesOfClock = (clock: Clock): readonly string[] => [
  clock.source,
  ...(clock.kind === 'age' && clock.sizes ? [clock.sizes.LT.source] : []),
];

/** The figures of a clock that its `range` speaks of, each with its field. */
export function figuresOfClock(clock: Clock): readonly (readonly [field: string, value: number])[] {
  switch (clock.kind) {
    case 'miles':
      return [['every', clock.every.value]];
    case 'months':
    case 'nights':
    case 'hours':
      return [['every', clock.every]];
    case 'age':
      return [
        ...(clock.from === undefined ? [] : [['from', clock.from] as const]),
        ...(clock.by === undefined ? [] : [['by', clock.by] as const]),
      ];
    case 'departure':
      return [['withinDays', clock.withinDays]];
    case 'after':
      return [
        ...clock.atMiles.map((mile) => ['atMiles', mile.value] as const),
        ...clock.atDays.map((day) => ['atDays', day] as const),
      ];
    case 'limit':
      return clock.limit === undefined ? [] : [['limit', clock.limit.value]];
    case 'season':
      return [];
  }
}

/** The figures of a clock that lie outside what its sources say. */
export function outsideRange(clock: Clock): readonly (readonly [field: string, value: number])[] {
  const range = clock.range;
  return range === undefined ? [] : figuresOfClock(clock).filter(([, value]) => value < range[0] || value > range[1]);
}

type Where = (...path: Path) => string;

/** What is wrong with one clock of an upkeep, its references aside. */
export function problemsOfClock(
  owner: string,
  upkeep: Upkeep,
  clock: Clock,
  part: PartKind | undefined,
  where: Where,
): Problem[] {
  const name = `${owner}, clock \`${clock.kind}\``;
  const wrong = (what: string, at: string, expected: string): Problem => ({
    code: 'catalog.value-wrong',
    what: `${name}: ${what}`,
    where: at,
    expected,
  });
  const problems: Problem[] = [];
  if (clock.range !== undefined && clock.range[0] > clock.range[1]) {
    problems.push(wrong('its range runs backwards', where('range'), '[smallest, largest]'));
  }
  for (const [field, value] of outsideRange(clock)) {
    problems.push({
      code: 'catalog.range-outside',
      what: `${name}: \`${field}\` is ${value}, outside what its own sources say`,
      where: where(field),
      expected: `a figure from ${clock.range![0]} to ${clock.range![1]}, or a wider range with its source`,
    });
  }
  if (clock.kind === 'age') {
    if (clock.from !== undefined && clock.by !== undefined && clock.from > clock.by) {
      problems.push(wrong('`from` comes after `by`', where('from'), 'months from ≤ by'));
    }
    if (clock.label === 'governs' && clock.from === undefined && clock.by === undefined) {
      problems.push(
        wrong('neither `from` nor `by`', where(), 'months, or `label: required` where only the label counts'),
      );
    }
  }
  if (clock.kind === 'after') {
    if (clock.setups.length + clock.upkeeps.length === 0)
      problems.push(wrong('born of nothing', where(), 'at least one set-up or upkeep'));
    if (clock.atMiles.length + clock.atDays.length === 0)
      problems.push(wrong('never due', where(), '`atMiles` or `atDays`'));
  }
  if (clock.kind === 'limit') problems.push(...problemsOfLimit(name, upkeep, clock, part, where));
  return problems;
}

function problemsOfLimit(
  name: string,
  upkeep: Upkeep,
  clock: Clock & { kind: 'limit' },
  part: PartKind | undefined,
  where: Where,
): Problem[] {
  const wrong = (code: string, what: string, at: string, expected: string): Problem => ({
    code,
    what: `${name}: ${what}`,
    where: at,
    expected,
  });
  const reading = upkeep.readings.find((one) => one.what === clock.reading);
  if (reading === undefined) {
    return [
      wrong(
        'catalog.reference-unknown',
        `\`${clock.reading}\` is no reading of this upkeep`,
        where('reading'),
        'a `what` under `readings`, which gives its unit',
      ),
    ];
  }
  const measured = dimensionOfUnit(reading.unit);
  if ((clock.limit === undefined) === (clock.limitFact === undefined)) {
    return [
      wrong(
        'catalog.value-wrong',
        'needs one limit',
        where(),
        '`limit` (a figure) or `limitFact` (a fact of the part)',
      ),
    ];
  }
  if (clock.limit !== undefined) {
    if (measured === undefined || dimensionOf(clock.limit.unit) === measured) return [];
    return [
      wrong(
        'catalog.unit-wrong',
        `the limit is in ${clock.limit.unit}, the reading in ${reading.unit}`,
        where('limit'),
        `a ${measured}`,
      ),
    ];
  }
  const unit = part?.factUnits?.[clock.limitFact!];
  if (part === undefined) return [];
  if (unit === undefined) {
    return [
      wrong(
        'catalog.reference-unknown',
        `\`${clock.limitFact}\` is no measured fact of \`${part.id}\``,
        where('limitFact'),
        "a key of the part's `factUnits`",
      ),
    ];
  }
  if (dimensionOfUnit(unit) === measured) return [];
  return [
    wrong(
      'catalog.unit-wrong',
      `\`${clock.limitFact}\` is in ${unit}, the reading in ${reading.unit}`,
      where('limitFact'),
      `a ${measured}`,
    ),
  ];
}
