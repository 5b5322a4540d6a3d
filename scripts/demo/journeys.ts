/**
 * Every trip of the demo, and what the two odometers show before and after each. All invented.
 *
 * Marigold's odometer must show 56,310.0 mi on 28 June 2025 (axle 2 repacked) and 64,120.4 mi on 23 May 2026, so the short
 * hops around the driveway are drawn first and the start is worked out backwards.
 */
import { seeded } from './book.ts';

export interface Journey {
  readonly id: string;
  readonly name: string;
  readonly leave: string;
  readonly back: string;
  readonly planned: number;
  /** Marigold's miles; absent for a trip that has not been made. */
  readonly driven?: number;
  readonly highestF?: number;
  readonly lowestF?: number;
  readonly heightFt?: number;
  readonly stops?: readonly (readonly [string, number])[];
  readonly chance?: number;
  readonly cancelled?: string;
}

const trip = (
  id: string,
  name: string,
  leave: string,
  back: string,
  planned: number,
  driven?: number,
  more: Partial<Journey> = {},
): Journey => ({
  id,
  name,
  leave,
  back,
  planned,
  ...(driven === undefined ? {} : { driven }),
  ...more,
});

const hot = { highestF: 95, lowestF: 48, heightFt: 2800 };
const high = { highestF: 88, lowestF: 34, heightFt: 7100 };
const mild = { highestF: 80, lowestF: 45, heightFt: 4200 };

export const journeys: readonly Journey[] = [
  trip('shakedown-2021', 'Shakedown, lower valley', '2021-04-30', '2021-05-02', 80, 92.4),
  trip('gorge-2021', 'Columbia gorge', '2021-05-27', '2021-05-31', 420, 451.2, mild),
  trip('palouse-2021', 'Methow to the Palouse and back', '2021-06-18', '2021-06-27', 600, 644.8, hot),
  trip('coast-2021', 'Coast', '2021-07-16', '2021-08-01', 1150, 1262.3, mild),
  trip('blues-2021', 'Blue Mountains', '2021-08-20', '2021-08-29', 620, 668.1, high),
  trip('harvest-2021', 'Harvest weekend', '2021-09-24', '2021-09-27', 290, 318.6),
  trip('shakedown-2022', 'Shakedown, lower valley', '2022-04-29', '2022-05-01', 80, 86.9),
  trip('palouse-2022', 'Methow to the Palouse and back', '2022-06-10', '2022-06-19', 620, 655.4, hot),
  trip('coast-2022', 'Coast', '2022-07-08', '2022-07-24', 1180, 1231.7, mild),
  trip('rockies-2022', 'Rockies', '2022-08-05', '2022-08-26', 1850, 2026.5, high),
  trip('lakes-2022', 'Lakes', '2022-09-09', '2022-09-12', 240, 251.0, mild),
  trip('harvest-2022', 'Harvest weekend', '2022-09-30', '2022-10-03', 300, 334.2),
  trip('shakedown-2023', 'Shakedown, lower valley', '2023-05-05', '2023-05-07', 80, 88.3),
  trip('gorge-2023', 'Columbia gorge', '2023-05-26', '2023-05-29', 430, 449.7, mild),
  trip('palouse-2023', 'Methow to the Palouse and back', '2023-06-16', '2023-06-25', 640, 702.6, hot),
  trip('redrock-2023', 'Red rock country', '2023-07-07', '2023-07-30', 2300, 2441.9, {
    highestF: 104,
    lowestF: 52,
    heightFt: 7900,
  }),
  trip('coast-2023', 'Coast', '2023-08-18', '2023-09-03', 1180, 1266.0, mild),
  trip('harvest-2023', 'Harvest weekend', '2023-09-22', '2023-09-25', 300, 311.8),
  trip('shakedown-2024', 'Shakedown, lower valley', '2024-05-03', '2024-05-05', 80, 84.1),
  trip('palouse-2024', 'Methow to the Palouse and back', '2024-06-14', '2024-06-23', 640, 689.5, hot),
  trip('rockies-2024', 'Rockies', '2024-07-05', '2024-07-28', 1900, 2101.2, high),
  trip('coast-2024', 'Coast', '2024-08-09', '2024-08-25', 1180, 1243.3, mild),
  trip('blues-2024', 'Blue Mountains', '2024-09-06', '2024-09-15', 620, 651.9, high),
  trip('harvest-2024', 'Harvest weekend', '2024-09-27', '2024-09-30', 300, undefined, { cancelled: '2024-09-25' }),
  trip('shakedown-2025', 'Shakedown, lower valley', '2025-04-25', '2025-04-27', 80, 91.0),
  trip('gorge-2025', 'Columbia gorge', '2025-05-23', '2025-05-26', 430, 462.6, mild),
  trip('palouse-2025', 'Methow to the Palouse and back', '2025-06-06', '2025-06-15', 640, 668.3, hot),
  trip('rockies-2025', 'Rockies', '2025-07-04', '2025-07-27', 2000, 2198.7, high),
  trip('coast-2025', 'Coast, the long way', '2025-08-08', '2025-08-24', 1650, 1731.5, mild),
  trip('harvest-2025', 'Harvest weekend', '2025-09-19', '2025-09-22', 300, 322.4),
  trip('redrock-2025', 'Red rock country', '2025-10-03', '2025-10-26', 2550, 2771.2, {
    highestF: 92,
    lowestF: 30,
    heightFt: 7900,
  }),
  trip('shakedown-2026', 'Shakedown by way of the scale', '2026-05-01', '2026-05-03', 260, 284.3),
  trip('gorge-2026', 'Columbia gorge', '2026-05-15', '2026-05-18', 390, 417.8, mild),
  trip('palouse-2026', 'Methow to the Palouse and back', '2026-06-12', '2026-06-21', 640, undefined, {
    ...hot,
    stops: [
      ['Grain elevator rest area', 92],
      ['Palouse camp', 214],
      ['River camp', 335],
      ['Basin fuel stop', 548],
    ],
  }),
  trip('coast-2026', 'Coast', '2026-07-03', '2026-07-19', 1180, undefined, mild),
  trip('lakes-2026', 'Lakes', '2026-07-31', '2026-08-02', 240, undefined, mild),
  trip('rockies-2026', 'Rockies', '2026-08-14', '2026-09-04', 1900, undefined, { ...high, chance: 0.6 }),
  trip('blues-2026', 'Blue Mountains', '2026-09-11', '2026-09-15', 420, undefined, high),
  trip('harvest-2026', 'Harvest weekend', '2026-09-25', '2026-09-28', 300),
];

export const journeyOf = (id: string): Journey => journeys.find((one) => one.id === id)!;

/** Odometers around a trip that was made: as shown, in miles. */
export interface Passage {
  readonly out: number;
  readonly home: number;
  readonly towOut: number;
  readonly towHome: number;
}

export const REPACK_AXLE_2 = { on: '2025-06-28', miles: 56_310.0 };
export const LAST = { on: '2026-05-23', miles: 64_120.4 };
/** The instrument cluster of Biscuit: what the old one showed, and the new. */
export const CLUSTER = { on: '2023-11-14', now: 12.0 };

const TOW_START = 41_207;
const TOW_SOLO_A_DAY = 17.5;
const tenth = (value: number): number => Math.round(value * 10) / 10;
const day = (date: string): number => Date.parse(`${date}T00:00:00Z`) / 86_400_000;

const made = journeys.filter((journey) => journey.driven !== undefined);

/** Short hops before each trip that was made. Those after the repack make up the difference to the newest reading exactly. */
function hops(): number[] {
  const random = seeded(2014);
  const drawn = made.map(() => tenth(2 + 16 * random()));
  const since = made.map((journey) => journey.leave > REPACK_AXLE_2.on);
  const driven = made.reduce((sum, journey, index) => sum + (since[index] ? journey.driven! : 0), 0);
  const rest = LAST.miles - REPACK_AXLE_2.miles - driven;
  const count = since.filter(Boolean).length;
  // Equal shares but for a tenth or so; the last piece of the way to the newest reading is what remains.
  return drawn.map((hop, index) => (since[index] ? tenth((rest * 0.9) / count + (hop - 10) / 10) : hop));
}

const hopsBefore = hops();
const before = made.filter((journey) => journey.leave < REPACK_AXLE_2.on);
/** What Marigold's odometer showed when the logbook begins. */
export const START = {
  on: '2021-03-27',
  miles: tenth(
    REPACK_AXLE_2.miles - before.reduce((sum, journey, index) => sum + journey.driven! + hopsBefore[index]!, 0),
  ),
  tow: TOW_START,
};

function passagesOf(): Map<string, Passage> {
  const passages = new Map<string, Passage>();
  let trailer = START.miles;
  let tow = TOW_START;
  let last = START.on;
  let offset = 0;
  made.forEach((journey, index) => {
    const out = tenth(trailer + hopsBefore[index]!);
    const towOut = tenth(tow + TOW_SOLO_A_DAY * (day(journey.leave) - day(last)));
    if (offset === 0 && journey.leave > CLUSTER.on) offset = clusterWas(tow, last) - CLUSTER.now;
    const home = tenth(out + journey.driven!);
    // Sightseeing without the trailer: a tenth of the way more, and three miles a day.
    const towHome = tenth(towOut + journey.driven! * 1.1 + 3 * (day(journey.back) - day(journey.leave)));
    passages.set(journey.id, { out, home, towOut: tenth(towOut - offset), towHome: tenth(towHome - offset) });
    [trailer, tow, last] = [home, towHome, journey.back];
  });
  return passages;
}

const clusterWas = (tow: number, last: string): number =>
  Math.floor(tow + TOW_SOLO_A_DAY * (day(CLUSTER.on) - day(last)));

export const passages: ReadonlyMap<string, Passage> = passagesOf();

/** What the old instrument of Biscuit showed at the end. */
export const CLUSTER_WAS = (() => {
  const last = made.findLast((journey) => journey.back < CLUSTER.on)!;
  return clusterWas(passages.get(last.id)!.towHome, last.back);
})();

/** What Marigold's odometer showed on a day at home. */
export function trailerOn(date: string): number {
  if (date >= LAST.on) return LAST.miles;
  const last = made.findLast((journey) => journey.back <= date);
  if (date === REPACK_AXLE_2.on) return REPACK_AXLE_2.miles;
  return last ? passages.get(last.id)!.home : START.miles;
}

/** What Biscuit's odometer showed on a day at home: the last passage and the solo miles since. */
export function towOn(date: string): number {
  const last = made.findLast((journey) => journey.back <= date);
  const from = last?.back ?? START.on;
  if (date >= CLUSTER.on && from < CLUSTER.on)
    return tenth(CLUSTER.now + TOW_SOLO_A_DAY * (day(date) - day(CLUSTER.on)));
  const shown = last ? passages.get(last.id)!.towHome : TOW_START;
  return tenth(shown + TOW_SOLO_A_DAY * (day(date) - day(from)));
}
