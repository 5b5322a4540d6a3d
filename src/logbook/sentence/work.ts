/** What was done: `repacked axle 2 at 64,120`; `adjusted brakes and torqued wheels at 64,130, 1 h, $12`; drills too. */
import { fail, ok, type Result } from '../../problem/index.ts';
import { convert, dimensionOf, formatQuantity, parseUnit, type Quantity } from '../../quantity/index.ts';
import type { EntryOf } from '../entry.ts';
import {
  ambiguous,
  dayText,
  partText,
  type Reading,
  type SentenceContext,
  type Understanding,
  wordsUnknown,
} from './context.ts';
import {
  asksForSeveral,
  type Duty,
  dutiesNamed,
  dutiesOfNamed,
  meaning,
  type NamedPart,
  unknownWords,
  verbIn,
} from './names.ts';
import { isPast, orderOrDone, saysFailed } from './not-done.ts';
import { distanceOf, milesText } from './plain.ts';
import { stem } from './stems.ts';
import type { Figure, Piece } from './tokens.ts';

type Done = EntryOf<'work'>['body']['done'][number];

interface Deed {
  readonly duty: Duty;
  readonly figures: readonly Figure[];
}

export const workIn: Understanding = (context) => {
  const { tokens, names } = context;
  const first = tokens.pieces[0];
  if (!first || verbIn(names, meaning(first.words)) === undefined) return undefined;
  const clauses = clausesOf(context, tokens.pieces);
  const deeds: Deed[] = [];
  for (const clause of clauses) {
    const order = orderIn(context, clause.words);
    if (order !== undefined) return orderOrDone(order, tokens.text);
    const duty = dutyOf(context, clause.words);
    if (!duty.ok) return duty;
    deeds.push({ duty: duty.value, figures: clause.figures });
  }
  const drills = deeds.filter((deed) => deed.duty.upkeep.drill === true);
  if (drills.length === 0) return workDone(context, deeds);
  if (drills.length < deeds.length)
    return fail({
      code: 'sentence.ambiguous',
      what: 'A drill and work stand in one sentence',
      next: 'Write a sentence for each.',
    });
  return drilled(context, drills);
};

/** What makes an account of a verb in any form (`leak test done`), and of one that is no order (`leak test good`). */
const SAYS_DONE = new Set(['done']);
const SAYS_HOW = new Set(['good', 'ok', 'fine', 'passed']);

/** The verb of a clause, where it is not written as what has happened. */
function orderIn({ names }: SentenceContext, words: readonly string[]): string | undefined {
  const verb = verbIn(names, meaning(words));
  const at = words.findIndex((word) => stem(word) === verb);
  if (at < 0 || isPast(words[at]!) || words.some((word) => SAYS_DONE.has(word))) return undefined;
  return at > 0 && words.some((word) => SAYS_HOW.has(word)) ? undefined : words[at];
}

/** Pieces that begin with a verb are clauses of their own; what follows without one belongs to the clause before it. */
function clausesOf({ names }: SentenceContext, pieces: readonly Piece[]): { words: string[]; figures: Figure[] }[] {
  const clauses: { words: string[]; figures: Figure[] }[] = [];
  for (const piece of pieces) {
    const last = clauses.at(-1);
    if (last && verbIn(names, meaning(piece.words)) === undefined) {
      last.words.push(...piece.words);
      last.figures.push(...piece.figures);
    } else clauses.push({ words: [...piece.words], figures: [...piece.figures] });
  }
  return clauses;
}

/** The one upkeep, and the parts, that the words mean. */
function dutyOf({ names, tokens }: SentenceContext, words: readonly string[]): Result<Duty> {
  const stems = meaning(words);
  const verb = verbIn(names, stems)!;
  const duties = dutiesNamed(names, stems, verb);
  if (duties.length === 0) {
    const unknown = unknownWords(names, words);
    if (unknown.length) return wordsUnknown(unknown, tokens.text);
    const listed = dutiesOfNamed(names, stems, verb);
    return fail({
      code: 'sentence.words-unknown',
      what: `No upkeep of this rig is “${words.join(' ')}”`,
      expected: listed.length
        ? `one of: ${listed.slice(0, 8).join('; ')}`
        : 'an upkeep by its verb and its part: “tested breakaway”',
    });
  }
  if (duties.length > 1) {
    return ambiguous(
      `“${words.join(' ')}” fits several upkeeps`,
      duties.map(({ upkeep }) => `${upkeep.title} (${upkeep.id})`),
      'Use more of its own words.',
    );
  }
  const [duty] = duties as [Duty];
  const place = duty.parts.length > 1 && !placed(duty.parts, words) && !asksForSeveral(words, duty.parts);
  if (place)
    return ambiguous(
      `“${words.join(' ')}” fits several parts`,
      duty.parts.map(partText),
      'Say which one, by its place, or “all”.',
    );
  return ok(duty);
}

/** True where the words name an axle: then all that sits on it is meant. */
function placed(parts: readonly NamedPart[], words: readonly string[]): boolean {
  return (
    words.some((word, index) => word === 'axle' && /^\d$/.test(words[index + 1] ?? '')) &&
    parts.every((one) => one.part.place.includes('axle'))
  );
}

/** Figures sorted by what they can only be: money, minutes, the odometer, or a reading of the upkeep. */
interface Sorted {
  cost?: number;
  minutes?: number;
  odometer?: Quantity;
  readings: { what: string; value: Quantity }[];
}

function sort({ state }: SentenceContext, { duty, figures }: Deed, sorted: Sorted): Result<Sorted> {
  for (const figure of figures) {
    const q = figure.quantity;
    const dimension = q ? dimensionOf(q.unit) : undefined;
    const reading = dimension && duty.upkeep.readings.filter((one) => parseUnit(one.unit, dimension).ok);
    const far = figure.value >= 100 || figure.after === 'at';
    if (dimension === 'money' && sorted.cost === undefined) sorted.cost = q!.value;
    else if (dimension === 'time') sorted.minutes = (sorted.minutes ?? 0) + convert(q!, 'min').value;
    else if ((q === undefined || ['mi', 'km'].includes(q.unit)) && far && sorted.odometer === undefined)
      sorted.odometer = distanceOf(figure, state)!;
    else if (reading && reading.length === 1) sorted.readings.push({ what: reading[0]!.what, value: q! });
    else {
      return fail({
        code: 'sentence.figure-many',
        what: `I cannot place ${figure.text} in “${duty.upkeep.title}”`,
        expected: [
          'the odometer (“at 64,120”)',
          'minutes',
          'what it cost',
          ...duty.upkeep.readings.map((one) => `${one.what.replaceAll('-', ' ')} (${one.unit})`),
        ].join(', '),
      });
    }
  }
  return ok(sorted);
}

function workDone(context: SentenceContext, deeds: readonly Deed[]): Result<Reading[]> {
  const { tokens } = context;
  const outcome = saysFailed(tokens.text) ? 'failed' : 'good';
  const whole: Sorted = { readings: [] };
  const done: Done[] = [];
  const said: string[] = [];
  for (const deed of deeds) {
    whole.readings = [];
    const sorted = sort(context, deed, whole);
    if (!sorted.ok) return sorted;
    const readings = whole.readings.length ? { readings: whole.readings } : {};
    const goodThrough = tokens.until ? { goodThrough: tokens.until } : {};
    for (const { part } of deed.duty.parts)
      done.push({ upkeep: deed.duty.upkeep.id, part: part.id, outcome, ...goodThrough, ...readings });
    const figures = whole.readings
      .map((one) => `, ${one.what.replaceAll('-', ' ')} ${formatQuantity(one.value)}`)
      .join('');
    said.push(`${deed.duty.upkeep.title}: ${deed.duty.parts.map(partText).join('; ')}${figures}`);
  }
  const tow = deeds.every((deed) => deed.duty.parts.every((one) => (one.part.vehicle ?? one.kind?.vehicle) === 'tow'));
  const odometer = whole.odometer ? { [tow ? 'odometerTow' : 'odometer']: whole.odometer } : {};
  const more = [
    whole.odometer && `at ${milesText(whole.odometer)}${tow ? ' of the tow vehicle' : ''}`,
    whole.minutes !== undefined && `${whole.minutes} min`,
    whole.cost !== undefined && `$${whole.cost}`,
    tokens.until && `good through ${tokens.until}`,
    outcome === 'failed' && 'FAILED',
  ].filter((text) => typeof text === 'string');
  const extras = {
    ...(whole.minutes === undefined ? {} : { minutes: whole.minutes }),
    ...(whole.cost === undefined ? {} : { cost: whole.cost }),
    ...(tokens.note ? { note: tokens.note } : {}),
  };
  return ok([
    {
      draft: { kind: 'work', on: tokens.on, body: { done, ...odometer, ...extras } },
      said: `Done on ${dayText(tokens.on)}${more.length ? `, ${more.join(', ')}` : ''}: ${said.join('. ')}.`,
    },
  ]);
}

function drilled({ tokens, by }: SentenceContext, deeds: readonly Deed[]): Result<Reading[]> {
  if (by === undefined)
    return fail({
      code: 'sentence.who-missing',
      what: 'Nobody is named who practised',
      expected: 'the name of whoever writes',
    });
  const outcome = saysFailed(tokens.text) ? 'failed' : 'good';
  const minutes = deeds
    .flatMap((deed) => deed.figures)
    .filter((figure) => figure.quantity && dimensionOf(figure.quantity.unit) === 'time');
  const strange = deeds.flatMap((deed) => deed.figures).filter((figure) => !minutes.includes(figure));
  if (strange.length || minutes.length > 1)
    return fail({
      code: 'sentence.figure-many',
      what: `I cannot place ${[...strange, ...minutes.slice(1)].map((figure) => figure.text).join(', ')}`,
      expected: 'at most how long it took: “12 min”',
    });
  const took = minutes[0] ? { minutes: convert(minutes[0].quantity!, 'min').value } : {};
  return ok(
    deeds.flatMap(({ duty }) =>
      duty.parts.slice(0, 1).map((one) => ({
        draft: {
          kind: 'drill' as const,
          on: tokens.on,
          body: {
            upkeep: duty.upkeep.id,
            part: one.part.id,
            who: by,
            outcome,
            ...took,
            ...(tokens.note ? { note: tokens.note } : {}),
          } as EntryOf<'drill'>['body'],
        },
        said: `Practised on ${dayText(tokens.on)} by ${by}${outcome === 'failed' ? ', FAILED' : ''}: ${duty.upkeep.title} (${partText(one)}).`,
      })),
    ),
  );
}
