import type { Calibration, HabitResult } from './study.ts';

/** Plots as SVG text: ink on paper, told apart by dash and mark as well as by shade. */

const SIZE = 420;
const LEFT = 56;
const SIDE = 330;
const INK = '#222';
const PALE = '#999';
const DASHES: readonly string[] = ['', '7 4', '2 3', '10 3 2 3', '1 5'];

const at = (share: number): number => Math.round((LEFT + share * SIDE) * 10) / 10;
const down = (share: number): number => Math.round((30 + (1 - share) * SIDE) * 10) / 10;
const text = (x: number, y: number, words: string, more = ''): string =>
  `<text x="${x}" y="${y}" font-family="sans-serif" font-size="12" fill="${INK}" ${more}>${words}</text>`;
const line = (from: readonly [number, number], to: readonly [number, number], more = ''): string =>
  `<line x1="${from[0]}" y1="${from[1]}" x2="${to[0]}" y2="${to[1]}" stroke="${INK}" ${more}/>`;

function svg(width: number, height: number, title: string, parts: readonly string[]): string {
  const head = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img"><title>${title}</title>`;
  return `${head}\n<rect width="${width}" height="${height}" fill="#fff"/>\n${parts.join('\n')}\n</svg>\n`;
}

function frame(across: string): string[] {
  return [
    `<rect x="${at(0)}" y="${down(1)}" width="${SIDE}" height="${SIDE}" fill="none" stroke="${INK}"/>`,
    ...QUARTERS.flatMap((share) => [
      line([at(share), down(0)], [at(share), down(0) + 5]),
      text(at(share), down(0) + 19, `${share * 100} %`, 'text-anchor="middle"'),
    ]),
    text(at(0.5), down(0) + 38, across, 'text-anchor="middle"'),
  ];
}

const QUARTERS = [0, 0.25, 0.5, 0.75, 1];

function axes(across: string, up: string): string[] {
  const rows = QUARTERS.flatMap((share) => [
    line([at(0) - 5, down(share)], [at(0), down(share)]),
    text(at(0) - 8, down(share) + 4, `${share * 100} %`, 'text-anchor="end"'),
  ]);
  return [
    ...frame(across),
    ...rows,
    text(14, 20, up),
    line([at(0), down(0)], [at(1), down(1)], 'stroke-width="1" stroke-opacity="0.35"'),
  ];
}

/** Points of a hundred by which more came true than was stated, one line a group, with the band of three either way. */
export function datesPlot({ curves }: Calibration): string {
  const most = 6;
  const off = (points: number): number => down((points + most) / (2 * most));
  const band = `<rect x="${at(0)}" y="${off(3)}" width="${SIDE}" height="${off(-3) - off(3)}" fill="${PALE}" fill-opacity="0.25"/>`;
  const lines = curves.map(({ shares }, i) => {
    const points = shares.map((share, k) => `${at(k / 20)},${off((share - k / 20) * 100)}`).join(' ');
    return `<polyline points="${points}" fill="none" stroke="${INK}" stroke-width="${i === 0 ? 2.4 : 1.2}" stroke-dasharray="${DASHES[i]}"/>`;
  });
  const legend = curves.flatMap(({ group }, i) => [
    line(
      [at(0.06), off(-3.4 - i * 0.55)],
      [at(0.16), off(-3.4 - i * 0.55)],
      `stroke-width="${i === 0 ? 2.4 : 1.2}" stroke-dasharray="${DASHES[i]}"`,
    ),
    text(at(0.18), off(-3.4 - i * 0.55) + 4, group),
  ]);
  const rows = [-6, -3, 0, 3, 6].flatMap((points) => [
    line([at(0) - 5, off(points)], [at(0), off(points)]),
    text(at(0) - 8, off(points) + 4, points > 0 ? `+${points}` : `${points}`.replace('-', '−'), 'text-anchor="end"'),
  ]);
  return svg(SIZE, SIZE + 10, 'What came true by the stated dates, against what was stated', [
    band,
    ...frame('stated chance to have run out by the date'),
    ...rows,
    text(14, 20, 'came true more often than stated, points of 100'),
    line([at(0), off(0)], [at(1), off(0)], 'stroke-opacity="0.35"'),
    ...lines,
    ...legend,
  ]);
}

/** Chances said against how often it ran out, with two standard errors. */
export function tripsPlot({ trips }: Calibration): string {
  const marks = trips.flatMap(({ said, came }) => [
    line(
      [at(said), down(Math.max(0, came.share - 2 * came.error))],
      [at(said), down(Math.min(1, came.share + 2 * came.error))],
    ),
    `<circle cx="${at(said)}" cy="${down(came.share)}" r="4" fill="${INK}"/>`,
  ]);
  return svg(SIZE, SIZE + 10, 'Chance to run out before a return, said and come true', [
    ...axes('chance said, mean of its band', 'ran out before the return'),
    ...marks,
  ]);
}

/** Money a year by habit, work and failures, and roadside failures beside it. */
export function habitsPlot(results: readonly HabitResult[]): string {
  const most = Math.max(...results.map(({ total }) => total.mean));
  const road = Math.max(...results.map(({ roadside }) => roadside.mean));
  const width = 680;
  const money = (value: number): number => Math.round((value / most) * 230);
  const rows = results.flatMap(({ habit, work, failures, total, roadside }, i) => {
    const y = 46 + i * 44;
    const failing = money(Math.max(0, failures.mean));
    const working = money(work.mean);
    return [
      text(8, y + 15, habit),
      `<rect x="170" y="${y}" width="${working}" height="22" fill="${PALE}" stroke="${INK}"/>`,
      `<rect x="${170 + working}" y="${y}" width="${failing}" height="22" fill="${INK}" stroke="${INK}"/>`,
      text(176 + working + failing, y + 15, `$${total.mean.toFixed(0)}`),
      `<rect x="470" y="${y + 4}" width="${Math.round((roadside.mean / road) * 130)}" height="14" fill="${INK}"/>`,
      text(476 + Math.round((roadside.mean / road) * 130), y + 15, `${(roadside.mean * 100).toFixed(0)}`),
    ];
  });
  return svg(width, 60 + results.length * 44, 'Cost and roadside failures of four habits', [
    text(170, 26, 'dollars a year: work (pale), failures (dark)'),
    text(470, 26, 'roadside failures in 100 years'),
    ...rows,
  ]);
}
