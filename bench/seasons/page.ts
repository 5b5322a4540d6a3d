import { DUTIES } from './duties.ts';
import type { Calibration, HabitResult, Mean, Share } from './study.ts';

/** The text of docs/calibration.md. */

const percent = ({ share, error }: Share): string => `${(share * 100).toFixed(1)} ± ${(error * 100).toFixed(1)}`;
const money = ({ mean, error }: Mean): string => `$${mean.toFixed(0)} ± ${error.toFixed(0)}`;
const plain = ({ mean, error }: Mean, digits: number): string => `${mean.toFixed(digits)} ± ${error.toFixed(digits)}`;
const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [row(head), row(head.map((_, i) => (i ? '--:' : '---'))), ...rows.map(row)].join('\n');

const datesTable = ({ dates }: Calibration): string =>
  table(
    ['', 'statements', 'by the 10 % date', 'by the 50 % date', 'by the 90 % date'],
    dates.map(({ group, levels }) => [group, `${levels[0]!.count}`, ...levels.map(percent)]),
  );

const tripsTable = ({ trips, never, surely }: Calibration): string =>
  table(
    ['chance said', 'statements', 'mean said', 'ran out'],
    [
      ['none', `${never.count}`, '0.0', percent(never)],
      ...trips.map(({ band, said, came }) => [
        `${Math.round(band[0] * 100)} to ${Math.min(100, Math.round(band[1] * 100))} %`,
        `${came.count}`,
        (said * 100).toFixed(1),
        percent(came),
      ]),
      ['certain', `${surely.count}`, '100.0', percent(surely)],
    ],
  );

const habitsTable = (results: readonly HabitResult[]): string =>
  table(
    [
      'a year',
      'all costs',
      'of it failures',
      'hours',
      'yard days',
      'roadside failures in 100 years',
      'of them safety',
      'more money than the plan',
      'more failures',
    ],
    results.map((result, i) => [
      result.habit,
      money(result.total),
      money(result.failures),
      plain(result.hours, 1),
      plain(result.yardDays, 1),
      plain({ mean: result.roadside.mean * 100, error: result.roadside.error * 100 }, 1),
      plain({ mean: result.roadsideSafety.mean * 100, error: result.roadsideSafety.error * 100 }, 1),
      i === 0 ? '' : money(result.more),
      i === 0 ? '' : plain({ mean: result.moreRoadside.mean * 100, error: result.moreRoadside.error * 100 }, 1),
    ]),
  );

export function pageOf(
  seasons: number,
  first: number,
  calibration: Calibration,
  results: readonly HabitResult[],
): string {
  return `# Does it come true, and is it worth it?

Written by \`npx tsx bench/seasons/report.ts ${seasons} ${first}\`; the same command writes the same page, but for what the program has changed since. Everything here is simulated: it shows
that the outlook keeps its word where use is as lawless as we could make it, not that your rig will. ± is one standard error, seasons
taken as what is drawn anew.

## The world it is tried in
\`bench/seasons/world.ts\` makes owners, each with three years of trips behind them and a day in the fourth on which the outlook is taken.
It is not the outlook's own model run backwards:

- 4 to 10 trips a year, at random within a season of 150 to 220 days; one year has more, another fewer (spread 0.2 in logs). Trips of
  450 to 1,100 miles by owner, 0.45 in logs among themselves, 90 to 180 miles a day; miles fall very unevenly on their days.
- A trip runs to its plan times a factor of the owner's own (about 1.08, give or take 7 %), scattered with a spread of the owner's own.
  One trip in five is tentative and made with the chance that the owner said.
- Seven owners in ten write the year down in winter, the others the next three trips; three trips in twenty are put in on a whim.
- Single hops between trips; the tow vehicle is driven 10 to 45 miles a day besides.
- The owner writes down planned and driven miles, the odometers after four trips in five and at any time of some day in the last three
  weeks. Nothing else of the above is told to the outlook.
- Tires lose air evenly, each at its own rate, drawn from the spread that the catalog's clock gives; they are read on cold days and warm
  ones with an error of 1 psi, rounded to half a psi.

## Do the stated dates come true?
${calibration.seasons} owners, so that sampling blurs little: of 500, a row of this table would be off by 1 to 2 points by chance alone.
For each upkeep that had not run out on the day: did it run out by the stated 10, 50 and 90 % dates? Where many paths share the day on
which it did (nights away are known beforehand), its place within that day's share is drawn (randomised probability integral transform:
Czado, Gneiting, Held, *Biometrics* 65, 2009).

${datesTable(calibration)}

![Stated dates against what came true](calibration/dates.svg)

Above the middle more came true than was stated; the grey band is three points to either side.

## Do the chances before a return come true?
Chances said for coming trips, against how often it had run out by the return, for the trips that were made.

${tripsTable(calibration)}

![Chances said and come true](calibration/trips.svg)

## What the trial changed
Nothing was fitted to the simulator. Two things they have in common from the start: that trips run about 8 % over their plan, and how fast
tires lose air, which the catalog's clock is told. Things that the model took for known were made unknown, or
read off the logbook:

1. **A trip's miles do not fall evenly on its days.** They are divided by a Dirichlet law with ½ a day, which has days of rest in it, and the
   trips of the next sixty days are cut finer. With a flat law and coarse cuts 12.0 and 87.2 % came true by the trailer's 10 and 90 % dates,
   with these 10.5 and 90.0 (1,500 other seasons).
2. **Trips besides the plan come whole or not at all.** A month's unplanned miles were a thin even stream; now they are a Poisson number of
   whole trips of the owner's own size.
3. **How many still come depends on how far ahead the owner plans.** One who writes the year down in winter has no more in store for autumn.
   The share still to come is read off how long before leaving past trips were written down, and how often one was put in before others.
4. **A month without trips is no average month.** Months were pulled towards the mean of the year, which put winter trips on paths; they are
   now pulled towards their neighbours.

Smaller ones: a tow vehicle's hops scatter by ten days at first, not by months; nights are slept one after another and none on the last day, and hops scatter as the odometer readings between trips
show, not by an assumed length alone. The trial's own odometer readings, first all taken in the evening, are taken at any time of day.
The seeds of this page were not used while the model was being mended.

What is still off: spreads of odometers are a little too narrow, most of all for what runs out within ten days of an odometer read at an hour that nobody wrote
down. One thing tried and left out: days on trips taken off the days on which one may set out on another. It is truer of a full season, but then
all dates came out early (medians at 47 instead of 49 %), since those who plan the whole year put in less than the habit says.

## Is the plan worth its trouble?
The same owners, two years on, one rig with ${DUTIES.length} duties (\`bench/seasons/duties.ts\`: invented minutes, money and intervals), ${seasons} of them kept four ways:

- **Rigworthy's plan**, made anew on coming home from each trip and whenever a trip is written down; what it puts before the next trip is done. It knows what
  the owner wrote down, no more.
- **A fixed spring service**: before the first trip of each year, everything that would not last another year like the last three; what
  does not last a year, again halfway through the year's trips.
- **When it falls due**: on the eve of each trip, everything that has run out by then, found without fail.
- **Everything every year**, before the first trip, and what does not last a year again halfway.

The three habits look at the true odometer. Luck is the same for all: the n-th renewal of a duty holds as long past its end in every habit, so
that differences are between habits. ± of a difference is of the differences season by season; twice that either way is a 95 % interval.

${habitsTable(results)}

![Cost and roadside failures of four habits](calibration/habits.svg)

What it rests on, all of it ours: nothing fails before its interval is used up, and past it with a chance of 1 − exp(−steepness × share run
over), on the road only; the true steepness of each duty on each rig is half to double what the plan believes. A failure on the road
costs what the duty says, is mended there, and counts as roadside unless its severity is comfort. Work costs parts, $25 an hour, set-ups once a day, and
$25 for a day opened, six hours at most. Work not used up at the end counts against the cost, and work half used at the beginning for it.
Checks before each leaving, tires and papers are the same in every habit and left out. A rig whose duties never fail when run over would make
"when it falls due" the best habit; one with dearer failures, the plan by more.

The plan keeps a safety duty from running out on the road with a chance above 5 %, whatever that costs: that is where its money goes that
"when it falls due" saves, and why it stands less by the roadside.
`;
}
