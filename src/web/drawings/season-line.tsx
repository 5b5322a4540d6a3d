import { dayNumber, formatDate } from '../../dates/index.ts';

/** What the season line draws. Dates are ISO; `width` is in CSS pixels. */
export interface SeasonLineData {
  readonly width: number;
  readonly from: string;
  readonly to: string;
  readonly today: string;
  readonly trips: readonly {
    readonly id: string;
    readonly name: string;
    readonly leave: string;
    readonly home: string;
    readonly miles: string;
    readonly tentative: boolean;
  }[];
  readonly days: readonly { readonly date: string; readonly text: string; readonly label: string }[];
  /** The spread of one upkeep's day. */
  readonly band?: {
    readonly title: string;
    readonly p10: string;
    readonly p50: string;
    readonly p90: string;
    readonly text: string;
  } | null;
  /** Days a job could be moved to, shown while one is being moved. */
  readonly slots?: readonly { readonly date: string; readonly more: number | null }[];
  /** Where it would be put now, and what that costs. */
  readonly chosen?: { readonly day: string; readonly text: string };
}

const CHAR = 7.1;
const BOLD = 7.8;
/** A yard day to so few pixels of the line is a small dot. */
const CROWDED = 20;
/** Width of a month's three letters. */
const MONTH = 25;
const TEXT = 14;
const NARROW = 500;
/** Height of a row of names, and how many rows there are at most on either side: who has a hundred trips sees the next ones named. */
const ROW = 19;
const ROWS_MOST = 3;

/**
 * Rows for flags on poles: a flag flies from its pole to the right, and no pole runs through a flag. So a flag over whose length
 * later poles stand goes further out than all of theirs. Input in order of `x`.
 */
function flagRows(flags: readonly { readonly x: number; readonly width: number }[]): number[] {
  const rows: number[] = flags.map(() => 0);
  for (let at = flags.length - 1; at >= 0; at--) {
    const { x, width } = flags[at]!;
    for (let later = at + 1; later < flags.length && flags[later]!.x < x + width + 6; later++) {
      rows[at] = Math.max(rows[at]!, rows[later]! + 1);
    }
  }
  return rows;
}

/**
 * Which flags fly, and in which row; null where there is no room. Input in order of `x`: what comes sooner has first call on the room.
 */
function flagsWithRoom(flags: readonly { readonly x: number; readonly width: number }[]): (number | null)[] {
  let flown: number[] = [];
  let rows: number[] = [];
  flags.forEach((_, at) => {
    const tried = [...flown, at];
    const found = flagRows(tried.map((index) => flags[index]!));
    if (found.some((row) => row >= ROWS_MOST)) return;
    flown = tried;
    rows = found;
  });
  return flags.map((_, at) => rows[flown.indexOf(at)] ?? null);
}

/** Where a date lies on the line. */
export function xOf({ from, to, width }: Pick<SeasonLineData, 'from' | 'to' | 'width'>, date: string): number {
  const share = (dayNumber(date) - dayNumber(from)) / (dayNumber(to) - dayNumber(from));
  return 4 + Math.min(1, Math.max(0, share)) * (width - 4 - (width < NARROW ? 44 : 104));
}

/** Room under the line for prices, while a job is moved. */
const PRICE_ROOM = 64;
/** A price stands as a bar: its root, so that ten dollars can be seen beside a thousand. */
const barOf = (more: number, dearest: number): number => 4 + 30 * Math.sqrt(Math.max(0, more) / Math.max(1, dearest));

/** A line through the season: trips as blocks on it, yard days as stems below, one upkeep's spread as a band above. */
export function SeasonLine(data: SeasonLineData) {
  const { width, trips, days, band } = data;
  const x = (date: string): number => xOf(data, date);
  const tripTexts = trips.map((trip) => shortName(trip.name, width < NARROW ? 11 : 34));
  const above = flagsWithRoom(trips.map((trip, at) => ({ x: x(trip.leave), width: tripTexts[at]!.length * BOLD })));
  const below = flagsWithRoom(days.map((day) => ({ x: x(day.date), width: day.text.length * CHAR + 5 })));
  const rowsAbove = Math.max(0, ...above.map((row) => (row ?? -1) + 1));
  const rowsBelow = Math.max(0, ...below.map((row) => (row ?? -1) + 1));
  const bandHeight = band ? 56 : 0;
  const y = bandHeight + rowsAbove * ROW + 22;
  const crowded = days.length * CROWDED > width;
  const prices = data.slots ? PRICE_ROOM : 0;
  const height = y + 46 + prices + rowsBelow * ROW;
  return (
    <svg
      class="season-line"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label={spoken(data)}
    >
      {band && <Band band={band} x={x} width={width} />}
      <path class="thin" d={`M4 ${y} H${width - 4}`} />
      <Months data={data} y={y} stems={days.flatMap((day, at) => (below[at] === null ? [] : [x(day.date)]))} />
      {trips.map((trip, at) => (
        <g key={trip.id} class={trip.tentative ? 'trip perhaps' : 'trip'}>
          <rect x={x(trip.leave)} y={y - 14} width={Math.max(6, x(trip.home) - x(trip.leave))} height="28" />
          <Flag x={x(trip.leave)} from={y - 14} to={flagAt(above[at]!, y - 34, -ROW)} down={10} text={tripTexts[at]!} />
        </g>
      ))}
      {days.map((day, at) => (
        <g key={day.date} class="day">
          <Flag x={x(day.date)} from={y} to={flagAt(below[at]!, y + 60 + prices, ROW)} down={-1} text={day.text} />
          <circle cx={x(day.date)} cy={y} r={crowded ? 3.5 : 6} />
        </g>
      ))}
      <path class="today" d={`M${x(data.today)} ${y - 18} V${y + 18}`} />
      {data.slots && <SlotPrices data={data} slots={data.slots} y={y} />}
    </svg>
  );
}

const flagAt = (row: number | null, first: number, step: number): number | null =>
  row === null ? null : first + row * step;

/** A pole from the line to where its text flies, `down` under the pole's end; nothing where there is no room for it. */
function Flag(props: {
  readonly x: number;
  readonly from: number;
  readonly to: number | null;
  readonly down: number;
  readonly text: string;
}) {
  const { x, from, to, down, text } = props;
  if (to === null) return null;
  return (
    <>
      <path class="pole" d={`M${x} ${from} V${to}`} />
      <text x={x + 5} y={to + down} font-size={TEXT}>
        {text}
      </text>
    </>
  );
}

/** Free days as diamonds, each with its price hanging below: the longer, the dearer; the chosen one in figures. */
function SlotPrices(props: {
  readonly data: SeasonLineData;
  readonly slots: NonNullable<SeasonLineData['slots']>;
  readonly y: number;
}) {
  const { data, slots, y } = props;
  const { chosen, width } = data;
  const dearest = Math.max(0, ...slots.map(({ more }) => more ?? 0));
  const at = chosen ? xOf(data, chosen.day) : 0;
  const left = Math.min(
    Math.max(0, at - (chosen?.text.length ?? 0) * (BOLD / 2)),
    width - (chosen?.text.length ?? 0) * BOLD,
  );
  return (
    <g class="slots">
      {slots.map(({ date, more }) => (
        <g key={date} class={more === null ? 'slot unknown' : 'slot'}>
          {more !== null && <path class="more" d={`M${xOf(data, date)} ${y + 38} v${barOf(more, dearest)}`} />}
          <path d={diamond(xOf(data, date), y, 5)} />
        </g>
      ))}
      {chosen && (
        <>
          <path class="target" d={`${diamond(at, y, 10)} M${at} ${y + 10} V${y + 80}`} />
          <text class="target-text" x={left} y={y + 96} font-size={TEXT}>
            {chosen.text}
          </text>
        </>
      )}
    </g>
  );
}

function Band({
  band,
  x,
  width,
}: {
  readonly band: NonNullable<SeasonLineData['band']>;
  readonly x: (date: string) => number;
  readonly width: number;
}) {
  const left = x(band.p10);
  const right = Math.max(left + 3, x(band.p90));
  const words = `${band.title}. ${band.text}`;
  const fits = words.length * CHAR < width ? words : band.text;
  const at = Math.max(0, Math.min(left, width - fits.length * CHAR));
  return (
    <g class="band">
      <text x={at} y="14" font-size={TEXT}>
        {fits}
      </text>
      <rect x={left} y="22" width={right - left} height="22" />
      <path d={`M${x(band.p50)} 18 V48`} />
    </g>
  );
}

/** The months, each named beside its tick where no stem of a yard day runs through. */
function Months(props: { readonly data: SeasonLineData; readonly y: number; readonly stems: readonly number[] }) {
  const { data, y, stems } = props;
  const clear = (from: number, to: number): boolean => !stems.some((stem) => stem > from - 3 && stem < to + 3);
  const firsts: string[] = [];
  for (let [year, month] = data.from.split('-').map(Number) as [number, number]; ; month++) {
    if (month > 12) [year, month] = [year + 1, 1];
    const first = `${year}-${String(month).padStart(2, '0')}-01`;
    if (first > data.to) break;
    if (first >= data.from) firsts.push(first);
  }
  return (
    <g class="months">
      {firsts.map((first) => {
        const x = xOf(data, first);
        const after = x < data.width - 40 && clear(x + 5, x + 5 + MONTH);
        return (
          <g key={first}>
            <path class="thin" d={`M${x} ${y - 6} V${y + 6}`} />
            {(after || clear(x - 5 - MONTH, x - 5)) && (
              <text x={after ? x + 5 : x - 5} y={y + 30} font-size="13" text-anchor={after ? 'start' : 'end'}>
                {formatDate(first, 'month').slice(0, 3)}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

const diamond = (x: number, y: number, r: number): string =>
  `M${x - r} ${y} L${x} ${y - r} L${x + r} ${y} L${x} ${y + r} Z`;

const shortName = (name: string, most: number): string =>
  name.length <= most ? name : `${name.slice(0, most - 1).trimEnd()}…`;

/** The line in words, in the order of days. */
function spoken({ trips, days, band }: SeasonLineData): string {
  const events = [
    ...trips.map((trip) => ({
      on: trip.leave,
      text: `${trip.tentative ? 'perhaps ' : ''}${trip.name}, ${formatDate(trip.leave, 'no-year')} to ${formatDate(trip.home, 'no-year')}`,
    })),
    ...days.map((day) => ({ on: day.date, text: `yard day ${day.label}` })),
  ].sort((a, b) => (a.on < b.on ? -1 : 1));
  const spread = band ? ` ${band.title}: ${band.text}.` : '';
  return `The season in order: ${events.map(({ text }) => text).join('; ')}.${spread}`;
}
