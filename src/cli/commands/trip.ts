/** `trip`: plan a trip, plan it again, or give it up. */
import type { Command } from 'commander';
import { parseDate } from '../../dates/index.ts';
import { type Draft, type EntryOf, entryWords, foldEntries, settingOf, tripsOf } from '../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../../quantity/index.ts';
import type { Route } from '../../routes/index.ts';
import { refuse, withRig } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import { readText } from '../files.ts';
import type { Io } from '../io.ts';
import type { OpenRig } from '../keeping.ts';
import { type WriteOptions, writeDown, writeOptions } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';

interface TripOptions extends WriteOptions {
  readonly id?: string;
  readonly leave?: string;
  readonly return?: string;
  readonly miles?: string;
  readonly fromGpx?: string;
  readonly places?: string;
  readonly andBack?: boolean;
  readonly chance?: string;
  readonly nights?: string;
  readonly giveUp?: boolean;
}

type Body = EntryOf<'trip'>['body'];

/** What a file gives is an estimate: a tenth is exact enough to write down. */
const rounded = (q: Quantity): Quantity => quantity(Math.round(q.value * 10) / 10, q.unit);

/** `Palouse & Snake River`, leaving in 2026: `palouse-snake-river-2026`. */
function idOf(name: string, leave: string): string {
  const words = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .match(/[a-z0-9]+/g) ?? ['trip'];
  const year = leave.slice(0, 4);
  return [...words.filter((word) => word !== year), year].join('-');
}

/** A distance as the owner writes it: a bare number is in their own unit. */
function distance(text: string, { whole }: OpenRig): Result<Body['miles']> {
  const unit = settingOf(whole, 'units') === 'metric' ? 'km' : 'mi';
  const read = parseQuantity(/[a-z]/i.test(text) ? text : `${text} ${unit}`, 'length');
  return read.ok ? read : fail({ ...read.problems[0]!, where: '--miles' });
}

/** A way, and its legs and what its length rests on in words. */
interface Way {
  readonly route: Route;
  readonly text: string;
}

/**
 * The way that a file tells, doubled where the same way leads home; null where no file is named.
 *
 * Problems: `cli.trip-route` (two answers to one question), `cli.file-unreadable`, `route.*`.
 */
async function routeOf(options: TripOptions, io: Io, { whole }: OpenRig): Promise<Result<Way | null>> {
  const { fromGpx, places, andBack } = options;
  const file = fromGpx ?? places;
  const said = [options.miles, fromGpx, places].filter((one) => one !== undefined);
  if (said.length > 1 || (andBack && file === undefined)) {
    const what = said.length > 1 ? 'The distance is said twice' : 'It is not said from which file one comes back';
    return fail({ code: 'cli.trip-route', what, expected: 'one of --miles, --from-gpx, --places' });
  }
  if (file === undefined) return ok(null);
  const text = await readText(file, io);
  if (!text.ok) return text;
  const unit = settingOf(whole, 'units') === 'metric' ? 'km' : 'mi';
  // Hardly a command asks for it: the readers come when one does.
  const { routeOfGpx, routeOfPlaces, routeText, thereAndBack } = await import('../../routes/index.ts');
  const read = (fromGpx === undefined ? routeOfPlaces : routeOfGpx)(text.value, unit);
  if (!read.ok) return fail(...(read.problems.map((one) => within(one, file)) as [Problem, ...Problem[]]));
  const route = andBack ? thereAndBack(read.value) : read.value;
  return ok({ route, text: routeText(route) });
}

const within = (problem: Problem, file: string): Problem => ({
  ...problem,
  where: problem.where ? `${file}, ${problem.where}` : file,
});

/** `0.6`, `60%`, `60 %`: a chance above 0 and up to 1. */
function chance(text: string): Result<number> {
  const number = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(text.trim());
  const value = number ? Number(number[1]) / (number[2] ? 100 : 1) : 0;
  if (value > 0 && value <= 1) return ok(value);
  return fail({
    code: 'cli.chance',
    what: `“${text}” is no chance`,
    where: '--chance',
    expected: '0.6 or 60%; 1 for a trip that will be made',
  });
}

function nights(text: string): Result<number> {
  if (/^\d{1,3}$/.test(text)) return ok(Number(text));
  return fail({ code: 'cli.nights', what: `“${text}” is no number of nights`, where: '--nights' });
}

/** What the options say of the trip; every option that cannot be read is a problem. */
function given(name: string, options: TripOptions, rig: OpenRig, way: Way | null): Result<Partial<Body>> {
  const problems: Problem[] = [];
  const take = <T>(text: string | undefined, read: (text: string) => Result<T>): T | undefined => {
    const value = text === undefined ? undefined : read(text);
    if (value && !value.ok) problems.push(...value.problems);
    return value?.ok ? value.value : undefined;
  };
  const day = (option: string) => (text: string) => {
    const read = parseDate(text);
    return read.ok ? read : fail({ ...read.problems[0]!, where: option });
  };
  const said = {
    name: name || undefined,
    leave: take(options.leave, day('--leave')),
    return: take(options.return, day('--return')),
    miles: way ? rounded(way.route.distance) : take(options.miles, (text) => distance(text, rig)),
    stops: way?.route.stops.map(({ name: stop, mile }) => ({ name: stop, mile: rounded(mile) })),
    chance: take(options.chance, chance),
    nights: take(options.nights, nights),
  };
  const [first, ...more] = problems;
  return first
    ? fail(first, ...more)
    : ok(Object.fromEntries(Object.entries(said).filter(([, value]) => value !== undefined)));
}

/** The trip as it will stand: what was planned before, with what is said now laid over it. Problems: `cli.trip-*`. */
function bodyOf(name: string, options: TripOptions, rig: OpenRig, way: Way | null): Result<Body> {
  const said = given(name, options, rig, way);
  if (!said.ok) return said;
  const trips = tripsOf(rig.whole);
  const before = options.id === undefined ? undefined : trips.find((trip) => trip.id === options.id);
  if (options.id !== undefined && (options.giveUp || name === '') && !before) {
    const expected =
      trips
        .filter((trip) => !trip.done)
        .map((trip) => trip.id)
        .join(', ') || 'a planned trip; there is none';
    return fail({ code: 'cli.trip-unknown', what: `No trip “${options.id}” is planned`, where: '--id', expected });
  }
  if (options.giveUp) {
    if (before) return ok({ ...before.plan.body, cancelled: true });
    return fail({ code: 'cli.trip-missing', what: 'It is not said which trip is given up', expected: '--id' });
  }
  const { leave, return: back, miles, name: named, ...rest } = { ...before?.plan.body, ...said.value };
  if (named === undefined || leave === undefined || back === undefined || miles === undefined) {
    const wanted = { 'a name': named, '--leave': leave, '--return': back, '--miles, --from-gpx or --places': miles };
    const missing = Object.entries(wanted).flatMap(([option, value]) => (value === undefined ? [option] : []));
    return fail({ code: 'cli.trip-missing', what: 'The trip is not all said yet', expected: missing.join(', ') });
  }
  const trip = options.id ?? idOf(named, leave);
  if (options.id === undefined && trips.some((one) => one.id === trip)) {
    return fail({
      code: 'cli.trip-there',
      what: `A trip “${trip}” is planned already`,
      next: `To plan it again, add --id ${trip}; for another trip, --id with another.`,
    });
  }
  return ok({ ...rest, chance: rest.chance ?? 1, trip, name: named, leave, return: back, miles });
}

async function trip(name: string, options: TripOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const way = await routeOf(options, io, rig);
    if (!way.ok) return refuse(io, way.problems, options.json);
    const body = bodyOf(name.trim(), options, rig, way.value);
    if (!body.ok) return refuse(io, body.problems, options.json);
    const drafts: readonly Draft[] = [{ kind: 'trip', on: rig.now, body: body.value }];
    const more = way.value ? ` ${way.value.text}` : '';
    return writeDown({ drafts, understood: `${understoodAs(body.value, rig)}${more}` }, rig, options, io);
  });
}

function understoodAs(body: Body, { whole, now, rig }: OpenRig): string {
  const entry = { id: '', rig, kind: 'trip', on: now, at: '', by: '', v: 1, body } as const;
  const teller = {
    state: foldEntries([]),
    catalog: shippedCatalog(),
    system: settingOf(whole, 'units') ?? 'us',
  } as const;
  const again = tripsOf(whole).find((one) => one.id === body.trip);
  const before = again && !body.cancelled ? ` Before: ${entryWords(again.plan, teller)}.` : '';
  return `${entryWords(entry, teller)} (${body.trip}).${before}`;
}

/** `rigworthy trip NAME --leave … --return … --miles …` */
export function addTrip(program: Command, io: Io, done: Done): void {
  writeOptions(
    rigCommand(program, 'trip').description('plan a trip, plan it again (--id), or give it up (--id --give-up)'),
  )
    .argument('[name...]', 'what it is called')
    .option('--leave <date>', 'the day of leaving')
    .option('--return <date>', 'the day of coming back')
    .option('--miles <distance>', 'towed, there and back: 640, or "1030 km"')
    .option('--from-gpx <file>', 'miles and stops by the tracks, routes or waypoints of a GPX 1.1 file')
    .option('--places <file>', 'miles and stops by a list: “Lakeside, 47.84, -120.02” or “Home–Lakeside 142 mi” a line')
    .option('--and-back', 'the way in the file leads home again')
    .option('--chance <share>', 'of a tentative trip: 0.6 or 60%')
    .option('--nights <count>', 'away from home')
    .option('--id <trip>', 'its id (default: of its name and year); of a planned one: plan it again')
    .option('--give-up', 'it will not be made')
    .action((words: string[], options: TripOptions) => done(trip(words.join(' '), options, io)));
}
