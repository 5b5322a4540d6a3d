import type { Catalog, Upkeep } from '../catalog/index.ts';
import { addDays, type PlainDate } from '../dates/index.ts';
import { type PartState, partsOf, type RigState, vehicleOf, type WorkFact } from '../logbook/index.ts';
import type { Outlook } from '../outlook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { isNewer } from './evidence.ts';
import { upkeepOf } from './takes.ts';
import type { Finding, SendOff } from './types.ts';

/** Where one stands while walking round the rig before leaving, in the order of walking. */
export const STATIONS = ['hitch', 'tow', 'left', 'rear', 'right', 'inside', 'round', 'rolling'] as const;
export type Station = (typeof STATIONS)[number];

/**
 * How one thing to do before leaving stands.
 * - `early`: nothing done today would still hold on leaving.
 * - `wrong`: found wrong, and nobody wrote that it was put right.
 * - `disputed`: on one day one person found it wrong and another ticked it without a word of that; somebody looks again, and says that it
 *   was put right or strikes the tick.
 */
export type RoundStanding = 'open' | 'early' | 'good' | 'wrong' | 'disputed' | 'overruled';

/** Who ticked it, or found it wrong. */
export interface RoundMark {
  readonly entry: string;
  readonly by: string;
  /** Instant of writing. */
  readonly at: string;
  readonly on: PlainDate;
  readonly outcome: 'good' | 'failed';
  /** Found wrong, and put right by work among these marks that says so. */
  readonly mended: boolean;
  readonly note: string;
}

export interface RoundPart {
  readonly part: string;
  readonly place: string;
  /** The newest value of each of the upkeep's readings. */
  readonly last: Readonly<Record<string, { readonly value: Quantity; readonly on: PlainDate }>>;
}

/** One duty that a person does at one station, on one part or several at once. */
export interface RoundRow {
  /** `inspect-tire/left`. */
  readonly id: string;
  readonly station: Station;
  readonly upkeep: Upkeep;
  readonly parts: readonly RoundPart[];
  readonly standing: RoundStanding;
  /** First day on which doing it holds on leaving. */
  readonly opens: PlainDate;
  /** Since then, oldest first; each entry once. */
  readonly marks: readonly RoundMark[];
  /** The reading without which a tick proves nothing; null where a look is enough. */
  readonly needs: string | null;
}

/** Kinds of part that are proven by driving a few yards, all at once. */
const ROLLING: ReadonlySet<string> = new Set(['drum-brake', 'hydraulic-brakes']);

/**
 * The round before leaving: every duty that is asked for at each departure, by where one stands, with who did it. Whether it is done
 * is for the judgement to say: what the send-off still asks for is open, so that both never say different things.
 */
export function departureRound(input: {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly outlook: Outlook;
  readonly sendOff: SendOff;
}): RoundRow[] {
  const { state, catalog, outlook, sendOff } = input;
  const towName = vehicleOf(state, 'tow')?.body.name ?? '';
  const known = new Map(partsOf(state).map((part) => [part.id, part]));
  const rows = new Map<string, { station: Station; upkeep: Upkeep; parts: PartState[] }>();
  for (const item of outlook.items) {
    const part = item.part === null ? undefined : known.get(item.part);
    if (!part) continue;
    const upkeep = upkeepOf(catalog, item);
    if (!upkeep.clocks.some((clock) => clock.kind === 'departure')) continue;
    const station = stationOf(catalog, part, towName);
    const id = `${upkeep.id}/${station}`;
    const row = rows.get(id) ?? { station, upkeep, parts: [] };
    if (!row.parts.includes(part)) row.parts.push(part);
    rows.set(id, row);
  }
  const order = [...catalog.upkeeps.keys()];
  return [...rows]
    .map(([id, row]) => rowOf(id, row, sendOff))
    .sort(
      (a, b) =>
        STATIONS.indexOf(a.station) - STATIONS.indexOf(b.station) ||
        order.indexOf(a.upkeep.id) - order.indexOf(b.upkeep.id),
    );
}

function rowOf(
  id: string,
  { station, upkeep, parts }: { station: Station; upkeep: Upkeep; parts: readonly PartState[] },
  { findings, trip, now }: SendOff,
): RoundRow {
  const clock = upkeep.clocks.find((one) => one.kind === 'departure');
  const opens = addDays(trip.leave, clock?.kind === 'departure' ? -Math.floor(clock.withinDays) : 0);
  const mine = findings.filter(
    (finding) =>
      finding.upkeep === upkeep.id &&
      finding.kind !== 'pass' &&
      finding.atMiles === undefined &&
      finding.parts.some((part) => parts.some(({ id: own }) => own === part)),
  );
  const marks = marksOf(parts, upkeep, opens);
  return {
    ...{ id, station, upkeep, opens, marks },
    parts: [...parts].sort((a, b) => (a.place < b.place ? -1 : 1)).map((part) => roundPart(part, upkeep)),
    standing: standingOf(mine, marks, now < opens),
    needs: needsOf(upkeep),
  };
}

const DISAGREEMENT = 'rig/disagreement-';

function standingOf(open: readonly Finding[], marks: readonly RoundMark[], early: boolean): RoundStanding {
  const last = marks.findLast(({ mended }) => !mended);
  if (open.length > 0 && open.every((finding) => finding.waived)) return 'overruled';
  if (open.some((finding) => finding.id.startsWith(DISAGREEMENT))) return 'disputed';
  if (last?.outcome === 'failed') return 'wrong';
  if (open.length === 0) return 'good';
  // A stop can be lifted today, however early the window of its clock opens.
  return early && open.every((finding) => finding.kind === 'limit') ? 'early' : 'open';
}

/** Good work since the window opened, and found wrong where nothing good was done since. */
function marksOf(parts: readonly PartState[], upkeep: Upkeep, opens: PlainDate): RoundMark[] {
  const facts = parts.flatMap((part) => {
    const done = part.work.get(upkeep.id) ?? [];
    const last = done.reduce<WorkFact | null>((a, b) => (a === null || isNewer(b, a) ? b : a), null);
    return done
      .filter((fact) => fact.on >= opens || (fact === last && fact.outcome === 'failed'))
      .flatMap((fact) => [
        ...(fact.mended ?? []).map((one) => ({ ...one, isMended: true })),
        { ...fact, isMended: false },
      ]);
  });
  const byEntry = new Map<string, (typeof facts)[number]>();
  // One entry may be of several parts: it is mended when it is so for all of them.
  for (const fact of facts) if (byEntry.get(fact.entry.id)?.isMended !== false) byEntry.set(fact.entry.id, fact);
  return [...byEntry.values()]
    .sort((a, b) => (isNewer(a, b) ? 1 : -1))
    .map(({ entry, on, outcome, isMended }) => ({
      ...{ entry: entry.id, by: entry.by, at: entry.at, on, outcome, mended: isMended },
      note: entry.body.note ?? '',
    }));
}

function roundPart(part: PartState, upkeep: Upkeep): RoundPart {
  const last = upkeep.readings.flatMap(({ what }) => {
    const newest = part.readings.get(what)?.at(-1);
    return newest ? [[what, { value: newest.value, on: newest.on }] as const] : [];
  });
  return { part: part.id, place: part.place, last: Object.fromEntries(last) };
}

/** A limit that goes stale is proven by its reading only. */
function needsOf(upkeep: Upkeep): string | null {
  const limit = upkeep.clocks.find((clock) => clock.kind === 'limit');
  return limit?.kind === 'limit' && upkeep.readings.some(({ what }) => what === limit.reading) ? limit.reading : null;
}

/** Where one stands to do what a part asks for: by its place in the owner's words, else by what kind of part it is. */
export function stationOf(catalog: Catalog, part: PartState, towName: string): Station {
  const kind = catalog.partKinds.get(part.kind);
  const { place } = part;
  if (ROLLING.has(part.kind)) return 'rolling';
  if (/^(all|every|whole)\b|all round|four corners/.test(place)) return 'round';
  if (/tongue|coupler|receiver|hitch/.test(place)) return 'hitch';
  if ((part.vehicle ?? kind?.vehicle) === 'tow' || (towName !== '' && place.includes(towName))) return 'tow';
  const side = /^(?:axle \d+, )?(left|right)\b/.exec(place)?.[1];
  if (side === 'left' || side === 'right') return side;
  if (/rear|bumper/.test(place)) return 'rear';
  if (/^front/.test(place)) return 'hitch';
  if (place !== '' && !/^roof/.test(place)) return 'inside';
  return (kind && BY_GROUP[kind.group]) ?? 'inside';
}

/** Where parts are looked for whose place nobody wrote down. */
const BY_GROUP: Readonly<Record<string, Station>> = {
  'hitch and coupling': 'hitch',
  'LP gas': 'hitch',
  brakes: 'hitch',
  'running gear': 'round',
  'roof and body': 'round',
  storage: 'round',
};
