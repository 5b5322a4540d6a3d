import { formatDate } from '../../dates/index.ts';
import { placesText } from '../../logbook/index.ts';
import type { Outlook, OutlookItem } from '../../outlook/index.ts';
import { formatQuantity, type Quantity, type System } from '../../quantity/index.ts';
import { notches, STATES } from './marks.ts';
import { paragraph, table } from './text.ts';

export interface OutlookView {
  /** Also what lasts every coming trip. */
  readonly all: boolean;
  /** Every clock, sentence and source. */
  readonly why: boolean;
  readonly system: System;
}

const SEVERITY = { safety: 0, damage: 1, comfort: 2 } as const;
const STATE = { failed: 0, due: 1, unproven: 2, runs: 3 } as const;

/** The outlook for a terminal: what has run out, what is unproven, what runs out before the last coming trip. */
export function outlookText(outlook: Outlook, title: string, view: OutlookView): string {
  const lasting = (item: OutlookItem): boolean => item.state === 'runs' && item.slackTrips >= outlook.trips.length;
  const shown = outlook.items.filter((item) => view.all || !lasting(item)).sort(byUrgency);
  const hidden = outlook.items.length - shown.length;
  const leaving =
    view.all || view.why ? [] : shown.filter((item) => item.state === 'runs' && item.clock === 'departure');
  const rows = shown.filter((item) => !leaving.includes(item));
  const lines = [title, ...odometerLines(outlook, view.system), '', ...tripLines(outlook, view.system), ''];
  lines.push(
    view.why
      ? shown.map((item) => itemText(item, outlook.trips.length)).join('\n\n')
      : itemsTable(rows, outlook.trips.length, view.system),
  );
  const titles = [...new Set(leaving.map((item) => item.title))];
  if (titles.length > 0) lines.push('', paragraph(`Before every leaving: ${titles.join('; ')}.`));
  if (hidden > 0) lines.push('', `${hidden} more last all coming trips: --all shows them.`);
  if (!view.why && shown.length > 0) lines.push('Evidence and sources of each: --why, or --json.');
  return `${lines.join('\n')}\n`;
}

function byUrgency(a: OutlookItem, b: OutlookItem): number {
  const day = (item: OutlookItem): string => item.dates.p50 ?? '9999';
  return (
    STATE[a.state] - STATE[b.state] ||
    SEVERITY[a.severity] - SEVERITY[b.severity] ||
    (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0) ||
    (a.id < b.id ? -1 : 1)
  );
}

const show = (q: Quantity, system: System): string =>
  formatQuantity(q, { system, ...(q.unit === 'mi' || q.unit === 'km' ? { digits: 1 } : {}) });

function odometerLines({ odometer }: Outlook, system: System): string[] {
  return (['trailer', 'tow'] as const).flatMap((role) => {
    const now = odometer[role];
    const name = role === 'trailer' ? 'Trailer' : 'Tow vehicle';
    return [
      now ? `${name} odometer ${show(now.shown, system)}, read ${formatDate(now.on)}` : `${name} odometer: never read`,
    ];
  });
}

function tripLines({ trips }: Outlook, system: System): string[] {
  if (trips.length === 0) return ['No trip is planned.'];
  const rows = trips.map((trip) => [
    trip.name,
    formatDate(trip.leave, 'no-year'),
    formatDate(trip.return, 'short'),
    formatQuantity(trip.planned, { system }),
    `${formatQuantity(trip.miles.p10, { system, digits: 0 }).replace(/ .*/, '')}–${formatQuantity(trip.miles.p90, { system, digits: 0 })}`,
    trip.chance < 1 ? `${Math.round(100 * trip.chance)} %` : 'sure',
  ]);
  return [
    table(
      [
        { head: 'Coming trip', grows: true },
        { head: 'leave' },
        { head: 'back' },
        { head: 'planned', right: true },
        { head: '10–90 %', right: true },
        { head: '' },
      ],
      rows,
    ),
  ];
}

/** Parts that stand alike share a row. */
function itemsTable(items: readonly OutlookItem[], trips: number, system: System): string {
  const rows = new Map<string, { item: OutlookItem; places: string[] }>();
  for (const item of items) {
    const key = [
      item.upkeep,
      item.follows?.atMiles,
      item.state,
      item.dates.p50,
      item.slackTrips,
      item.left?.value,
    ].join(' ');
    const row = rows.get(key);
    if (row) row.places.push(item.place);
    else rows.set(key, { item, places: [item.place] });
  }
  if (rows.size === 0) return 'Nothing runs out before the last coming trip is over.';
  return table(
    [
      { head: 'State' },
      { head: 'Upkeep', grows: true },
      { head: 'left', right: true },
      { head: 'runs out' },
      { head: 'trips it lasts' },
    ],
    [...rows.values()].map(({ item, places }) => [
      STATES[item.state],
      `${item.title}${item.follows?.atMiles ? `, ${item.follows.atMiles} mi on` : ''} (${placesText(places) || 'not on record'})${item.severity === 'safety' ? ', safety' : ''}`,
      item.left ? show(item.left, system) : '–',
      item.dates.p50 === null ? '–' : formatDate(item.dates.p50, 'day'),
      trips === 0 ? '–' : notches(item.slackTrips, trips),
    ]),
  );
}

function itemText(item: OutlookItem, trips: number): string {
  const { p10, p50, p90 } = item.dates;
  const days =
    p50 === null
      ? ''
      : `10 % by ${p10 ? formatDate(p10, 'day') : 'never'}, half by ${formatDate(p50, 'day')}, 90 % by ${p90 ? formatDate(p90, 'day') : 'never'}`;
  return [
    paragraph(
      `${item.title}${item.place ? ` (${item.place})` : ''}, ${item.severity}. ${trips ? notches(item.slackTrips, trips) : ''}`,
      `${STATES[item.state]}  `,
    ),
    paragraph(item.why, '    '),
    ...(days ? [`    ${days}`] : []),
    ...item.clocks.map((clock) => paragraph(`${clock.kind}: ${clock.text}`, '    - ')),
    paragraph(
      `evidence ${item.evidence.length ? item.evidence.join(' ') : 'none'}; sources ${item.sources.length ? item.sources.join(', ') : 'none'}`,
      '    ',
    ),
  ].join('\n');
}
