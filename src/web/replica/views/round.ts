import { formatDate } from '../../../dates/index.ts';
import { partOf, placesText, vehicleOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { dimensionOf, parseUnit } from '../../../quantity/index.ts';
import {
  departureRound,
  type RoundMark,
  type RoundRow,
  type RoundStanding,
  type SendOff,
  STATIONS,
  type Station,
} from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { factText, readingName } from './entry-text.ts';
import { type Choice, labelOf, unitChoices } from './form-fields.ts';
import { type TripChoice, tripChoices } from './go.ts';
import { type Told, toldBy } from './told.ts';

/** One value to be read at a row. */
export interface RoundReading {
  readonly part: string;
  readonly what: string;
  readonly label: string;
  readonly units: readonly Choice[];
  /** What was read last, and when. */
  readonly last: string;
  /** Without it a tick proves nothing. */
  readonly needed: boolean;
}

export interface RoundRowView {
  readonly id: string;
  readonly title: string;
  readonly places: string;
  readonly upkeep: string;
  readonly parts: readonly string[];
  readonly standing: RoundStanding;
  /** `Thu 11 Jun`: the first day on which doing it holds. */
  readonly opens: string;
  readonly marks: readonly RoundMark[];
  readonly readings: readonly RoundReading[];
  readonly steps: readonly string[];
  readonly cautions: readonly string[];
}

export interface RoundView {
  readonly trips: readonly TripChoice[];
  readonly trip: TripChoice | null;
  readonly judgement: SendOff['judgement'] | null;
  readonly sentence: string;
  readonly problems: readonly Problem[];
  readonly stations: readonly { readonly id: Station; readonly name: string; readonly rows: readonly RoundRowView[] }[];
  /** What stops us and is no part of the round: work for a yard day, a paper, a weighing. */
  readonly besides: readonly string[];
}

const NAMES: Readonly<Record<Station, string>> = {
  hitch: 'Hitch and tongue',
  tow: 'Tow vehicle',
  left: 'Left side',
  rear: 'Rear',
  right: 'Right side',
  inside: 'Inside',
  round: 'All round, once more',
  rolling: 'The first yards',
};

/** Places that say no more than their station does. */
const PLAIN: Partial<Record<Station, RegExp>> = {
  hitch: /^(tongue|receiver)$/,
  left: /^left side$/,
  right: /^right side$/,
  round: /./,
  rolling: /./,
};

/** The round before leaving on this trip, by where one stands. */
export function roundView(keeper: Keeper, asked: string | null): RoundView {
  const desk = keeper.desk();
  const told = toldBy(keeper);
  const trips = tripChoices(keeper);
  const trip = trips.find((one) => one.id === asked) ?? trips[0] ?? null;
  const made = desk.sendoff(trip?.id);
  if (!made.ok) {
    return {
      ...{ trips, trip, judgement: null, sentence: made.problems[0]!.what, problems: made.problems },
      ...{ stations: [], besides: [] },
    };
  }
  const sendOff = made.value;
  const rows = departureRound({ state: keeper.state, catalog: desk.catalog, outlook: desk.outlook(), sendOff });
  const inRound = new Set(rows.map((row) => row.upkeep.id));
  return {
    ...{ trips, trip, judgement: sendOff.judgement, sentence: sendOff.sentence, problems: [] },
    stations: STATIONS.map((id) => ({
      ...{ id, name: id === 'tow' ? towName(keeper) || NAMES.tow : NAMES[id] },
      rows: rows.filter((row) => row.station === id).map((row) => rowView(keeper, told, row)),
    })).filter((station) => station.rows.length > 0),
    besides: [
      ...new Set(
        sendOff.findings
          .filter((finding) => finding.counts === 'hold' && !inRound.has(finding.upkeep ?? ''))
          .map((finding) => keeper.catalog.upkeeps.get(finding.upkeep ?? '')?.title ?? finding.text),
      ),
    ],
  };
}

function rowView(keeper: Keeper, told: Told, row: RoundRow): RoundRowView {
  const { upkeep, parts } = row;
  const places = placesText(parts.map(({ place }) => short(keeper, place)));
  const where = PLAIN[row.station]?.test(places) ? '' : places;
  return {
    ...{ id: row.id, title: upkeep.title, places: where, upkeep: upkeep.id },
    parts: parts.map(({ part }) => part),
    ...{ standing: row.standing, opens: formatDate(row.opens, 'no-year'), marks: row.marks },
    readings: parts.flatMap(({ part, place, last }) =>
      upkeep.readings.flatMap(({ what, unit }): RoundReading[] => {
        const parsed = parseUnit(unit);
        if (!parsed.ok) return [];
        const name = labelOf(readingName(what));
        const before = last[what];
        const target = partOf(keeper.state, part)?.facts.pressureColdMin;
        const wanted = row.needs === what && target !== undefined ? `At least ${factText(told, target)}. ` : '';
        return [
          {
            ...{ part, what, needed: row.needs === what },
            label: parts.length === 1 || place === '' ? name : `${name}, ${short(keeper, place)}`,
            units: unitChoices(dimensionOf(parsed.value), told.system, parsed.value),
            last: `${wanted}${before ? `Last ${factText(told, before.value)} on ${formatDate(before.on, 'day')}.` : ''}`,
          },
        ];
      }),
    ),
    ...{ steps: upkeep.steps, cautions: upkeep.cautions },
  };
}

const towName = (keeper: Keeper): string => vehicleOf(keeper.state, 'tow')?.body.name ?? '';

/** A place without what its station says already. */
function short(keeper: Keeper, place: string): string {
  const name = towName(keeper);
  const own = name === '' ? place : place === name ? '' : place.replace(` of ${name}`, '');
  return own.replace(/^(axle \d+), (left|right)$/, '$1');
}
