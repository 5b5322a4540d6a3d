/** A short sentence taken apart: its day, its quantities, its words and its note. */
import { addDays, dayNumber, isPlainDate, parseDate, weekdayOf } from '../../dates/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import { type Dimension, dimensionOf, parseQuantity, type Quantity } from '../../quantity/index.ts';
import { ENTRY_LIMITS } from '../cost.ts';

/** A number as written, with its unit where it had one, and the word before it. */
export interface Figure {
  readonly text: string;
  readonly value: number;
  readonly quantity?: Quantity;
  readonly after: string;
}

/** A piece of a sentence that can stand alone: `axle 1 left 65.5 psi`. */
export interface Piece {
  /** Lower-case words, and the numbers that name a place (`axle 2`), in order. */
  readonly words: readonly string[];
  readonly figures: readonly Figure[];
}

export interface Tokens {
  readonly on: string;
  readonly pieces: readonly Piece[];
  /** A date that is not the day of the entry: `to 2027-05-31`; a day or a month. */
  readonly until?: string;
  /** What stands after a dash. */
  readonly note?: string;
  /** The sentence without its day, its `until` and its note. */
  readonly text: string;
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const WEEKDAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'];
const MONTH = '(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\\.?';

/** The day a sentence speaks of, and the sentence without it. */
function dayOf(text: string, today: string): Result<{ on: string; rest: string }> {
  const forms: readonly [RegExp, (match: RegExpMatchArray) => string | undefined][] = [
    [/\btoday\b/i, () => today],
    [/\byesterday\b/i, () => addDays(today, -1)],
    [/\b(\d{1,3}) days? ago\b/i, (m) => addDays(today, -Number(m[1]))],
    [/\bon (\d{4}-\d{2}-\d{2})\b/i, (m) => m[1]],
    [/^(\d{4}-\d{2}-\d{2})\b:?/i, (m) => m[1]],
    [
      new RegExp(`\\bon (\\d{1,2}) ${MONTH}(?: (\\d{4}))?(?![\\w-])`, 'i'),
      (m) => dayInMonth(m[1]!, m[2]!, m[3], today),
    ],
    [
      new RegExp(`\\bon ${MONTH} (\\d{1,2})(?:,? (\\d{4}))?(?![\\w-])`, 'i'),
      (m) => dayInMonth(m[2]!, m[1]!, m[3], today),
    ],
    [/\b(?:on|last) (sunday|monday|tuesday|wednesday|thursday|friday|saturday)\b/i, (m) => weekdayBefore(m[1]!, today)],
  ];
  const found = forms.flatMap(([form, read]) => {
    const match = form.exec(text);
    return match ? [{ match, on: read(match) }] : [];
  });
  if (found.length === 0) return ok({ on: today, rest: text });
  if (found.length > 1) {
    return fail({
      code: 'sentence.days',
      what: `The sentence names ${found.length} days: ${found.map((one) => `“${one.match[0]}”`).join(' and ')}`,
      expected: 'one day, or none for today',
    });
  }
  const { match, on } = found[0]!;
  if (on === undefined || !isPlainDate(on)) {
    const read = parseDate(on ?? match[0]);
    return read.ok
      ? fail({ code: 'date.impossible', what: `There is no ${match[0]}`, expected: 'a day of the calendar' })
      : read;
  }
  return ok({
    on,
    rest: `${text.slice(0, match.index)} ${text.slice(match.index! + match[0].length)}`.replace(/^[\s,:;]+/, ''),
  });
}

/** Day and month; the newest one up to today where no year is written. */
function dayInMonth(day: string, month: string, year: string | undefined, today: string): string {
  const of = (y: number): string =>
    `${y}-${String(MONTHS.indexOf(month.slice(0, 3).toLowerCase()) + 1).padStart(2, '0')}-${day.padStart(2, '0')}`;
  if (year !== undefined) return of(Number(year));
  const thisYear = Number(today.slice(0, 4));
  return of(thisYear) <= today ? of(thisYear) : of(thisYear - 1);
}

function weekdayBefore(name: string, today: string): string {
  const back = (weekdayOf(dayNumber(today)) - WEEKDAYS.indexOf(name.toLowerCase()) + 7) % 7;
  return addDays(today, -(back || 7));
}

const UNTIL = new RegExp(
  `\\b(?:good |valid |paid )?(?:to|through|until|till|thru) (\\d{4}-\\d{2}(?:-\\d{2})?|(\\d{1,2}) ${MONTH} (\\d{4})|${MONTH} (\\d{4}))(?![\\w-])`,
  'i',
);

function untilOf(text: string): { until?: string; rest: string } {
  const match = UNTIL.exec(text);
  if (!match) return { rest: text };
  const month = (name: string): string => String(MONTHS.indexOf(name.slice(0, 3).toLowerCase()) + 1).padStart(2, '0');
  const [whole, written, day, dayMonth, dayYear, monthOnly, monthYear] = match;
  const date = day
    ? `${dayYear}-${month(dayMonth!)}-${day.padStart(2, '0')}`
    : monthOnly
      ? `${monthYear}-${month(monthOnly)}`
      : written!;
  return { until: date, rest: `${text.slice(0, match.index)} ${text.slice(match.index + whole.length)}` };
}

const NUMBER = /(?<![\w.,/])([+−-]?\$?\s?\d[\d.,]*(?:[ -]\d+\/\d+|\/\d+)?)/g;
/** A number after these names a place or a thing, whatever follows; after those, where no unit follows. */
const NAMING_ALWAYS = /\baxle\s*$/i;
const NAMING_BARE = /\b(no|number|cylinder|alarm|battery|window|door|slide)\s*$/i;

/** The longest spelling of a unit at the start of `rest`: up to three words. */
function unitAt(number: string, rest: string): { quantity: Quantity; length: number } | undefined {
  const spelling = /^\s?(°?\s?[a-zA-Z%"'′″°·][\w²³/·.%°]*(?:[ -][a-zA-Z/.]+){0,2})/.exec(rest);
  if (!spelling) return undefined;
  let words = spelling[0];
  while (words.trim() !== '') {
    const read = parseQuantity(`${number}${words.replace(/[.,;]+$/, '')}`);
    if (read.ok) return { quantity: read.value, length: words.length };
    words = words.replace(/[ -]?[^ -]*$/, '');
  }
  return undefined;
}

function figuresOf(text: string): { figures: Figure[]; rest: string } {
  const figures: Figure[] = [];
  let rest = '';
  let from = 0;
  for (const match of text.matchAll(NUMBER)) {
    if (match.index < from || NAMING_ALWAYS.test(text.slice(0, match.index))) continue;
    const written = match[0].replace(/[.,]+$/, '').trim();
    const end = match.index + match[0].replace(/[.,]+$/, '').length;
    const after = /(\w+)\W*$/.exec(text.slice(0, match.index))?.[1]?.toLowerCase() ?? '';
    const unit = unitAt(written, text.slice(end));
    const money = written.includes('$') ? parseQuantity(written) : undefined;
    if (!unit && !money && NAMING_BARE.test(text.slice(0, match.index))) continue;
    const quantity = money?.ok ? money.value : unit?.quantity;
    const bare = parseQuantity(`${written} mi`);
    if (!bare.ok && !quantity) continue;
    const length = money?.ok ? 0 : (unit?.length ?? 0);
    figures.push({
      text: text.slice(match.index, end + length).trim(),
      value: quantity?.value ?? (bare.ok ? bare.value.value : Number.NaN),
      ...(quantity ? { quantity } : {}),
      after,
    });
    rest += `${text.slice(from, match.index)} `;
    from = end + length;
  }
  return { figures, rest: rest + text.slice(from) };
}

const wordsIn = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^a-z0-9-]+/)
    .map((word) => word.replace(/^-+|-+$/g, ''))
    .filter((word) => word !== '');

/** Takes a sentence apart. Problems: `sentence.empty`, `sentence.long`, `sentence.days`, `date.*`. */
export function tokensOf(sentence: string, today: string): Result<Tokens> {
  const plain = sentence.replace(/\s+/g, ' ').trim();
  if (plain === '')
    return fail({
      code: 'sentence.empty',
      what: 'Nothing is written here',
      expected: 'a short sentence, such as “spare 41 psi, 12 C”',
    });
  if (plain.length > ENTRY_LIMITS.text)
    return fail({
      code: 'sentence.long',
      what: `The sentence has ${plain.length} characters`,
      expected: `at most ${ENTRY_LIMITS.text}; a short sentence, such as “spare 41 psi, 12 C”`,
    });
  const [, said = plain, note] = /^(.*?)(?: [-–—] |\bnote: )(.*)$/i.exec(plain) ?? [];
  const day = dayOf(said, today);
  if (!day.ok) return day;
  const { until, rest } = untilOf(day.value.rest);
  const pieces = rest.split(/,\s+|;\s*|\s+and\s+|,$/).flatMap((text): Piece[] => {
    const { figures, rest: spoken } = figuresOf(text);
    const words = wordsIn(spoken);
    return words.length + figures.length === 0 ? [] : [{ words, figures }];
  });
  return ok({
    on: day.value.on,
    pieces,
    text: rest.trim(),
    ...(until ? { until } : {}),
    ...(note?.trim() ? { note: note.trim() } : {}),
  });
}

/** The figures of one dimension. */
export function figuresOfDimension(figures: readonly Figure[], dimension: Dimension): Figure[] {
  return figures.filter((figure) => figure.quantity !== undefined && dimensionOf(figure.quantity.unit) === dimension);
}
