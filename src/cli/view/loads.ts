import { formatDate } from '../../dates/index.ts';
import { formatQuantity, type Quantity, type System, valueIn } from '../../quantity/index.ts';
import type { Finding, LoadFigures, LoadMargin } from '../../sendoff/index.ts';
import { paragraph, table } from './text.ts';

export interface Loads {
  readonly now: string;
  /** Null: never weighed. */
  readonly weighing: {
    readonly id: string;
    readonly on: string;
    readonly place: string | null;
    readonly cargo: string | null;
  } | null;
  readonly figures: Omit<LoadFigures, 'cautions'>;
  readonly margins: readonly LoadMargin[];
  readonly cautions: readonly string[];
  /** Whose send-off the findings are of; null where no trip is ahead. */
  readonly trip: string | null;
  readonly findings: readonly Finding[];
}

/** Findings that are not one margin: those stand in the table. */
const MARKS = { stop: '⯃ ', unproven: '○ ', limit: '◇ ', pass: '· ' } as const;
const MISSING = ['loads/ratings', 'loads/unweighed'];

/** The margins for a terminal, the tightest first. */
export function loadsText(loads: Loads, title: string, system: System): string {
  const show = (q: Quantity): string => formatQuantity(q, { system, digits: 0 });
  const { weighing, margins, trip } = loads;
  const lines = [title];
  if (weighing) {
    const at = weighing.place ? `, ${weighing.place}` : '';
    lines.push(paragraph(`Weighed on ${formatDate(weighing.on)}${at}${weighing.cargo ? `: ${weighing.cargo}` : ''}`));
  } else lines.push('○ Never weighed: no margin is known.');
  const tongue = tongueText(loads.figures, show);
  if (tongue) lines.push(paragraph(tongue));
  const known = margins.filter((row) => row.used !== null);
  if (known.length) lines.push('', marginTable(known, show));
  for (const { what, left } of known.filter((row) => row.left!.value < 0))
    lines.push(
      paragraph(
        `OVER: ${what} by ${show({ ...left!, value: -left!.value })}. Do not tow until it is under.`,
        MARKS.stop,
      ),
    );
  const unrated = margins.filter((row) => row.rating === null && row.load !== null);
  const unweighed = margins.filter((row) => row.load === null && row.rating !== null);
  if (unrated.length) lines.push('', paragraph(`No rating on record: ${named(unrated)}`, '○ '));
  if (weighing && unweighed.length) lines.push('', paragraph(`Not weighed: ${named(unweighed)}`, '○ '));
  lines.push(...loads.cautions.map((caution) => paragraph(`Caution: ${caution}`, '  ')));
  const inTable = new Set([...margins.map((row) => `loads/${row.id}`), ...MISSING]);
  const more = loads.findings.filter((finding) => !inTable.has(finding.id));
  if (more.length)
    lines.push('', `For ${trip}`, ...more.map((finding) => paragraph(finding.text, MARKS[finding.kind])));
  if (trip === null)
    lines.push(
      '',
      paragraph('No trip is ahead: whether the weighing still holds, and what each tire carries, is judged with one.'),
    );
  return `${lines.join('\n')}\n`;
}

const named = (rows: readonly LoadMargin[]): string => `${rows.map((row) => row.what).join(', ')}.`;

function tongueText(
  { tongue, tongueShare, tongueBounds, trailer }: Loads['figures'],
  show: (q: Quantity) => string,
): string {
  if (!tongue) return '';
  const share =
    tongueShare && trailer ? `, ${valueIn(tongueShare, '%').toFixed(1)} % of the trailer’s ${show(trailer)}` : '';
  const open = tongueBounds ? ` (${show(tongueBounds.low)} to ${show(tongueBounds.high)} within the scale’s step)` : '';
  return `Tongue ${show(tongue)}${share}${open}`;
}

function marginTable(rows: readonly LoadMargin[], show: (q: Quantity) => string): string {
  return table(
    [
      { head: 'What' },
      { head: 'Load', right: true },
      { head: 'Rating', right: true },
      { head: 'Left', right: true },
      { head: 'Used', right: true },
      { head: 'Rating from', grows: true },
    ],
    rows.map(({ what, load, rating, left, used, origin }) => [
      `${used! > 100 ? '⯃ ' : ''}${what}`,
      show(load!),
      show(rating!),
      show(left!),
      `${Math.round(used!)} %`,
      origin!,
    ]),
  );
}
