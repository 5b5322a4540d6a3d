/** What was read off gauges: `spare 41 psi, 12 C`; `axle 1 left 65.5 psi, axle 1 right 65 psi, 18 C`. */
import { fail, ok, type Result } from '../../problem/index.ts';
import { dimensionOf, formatQuantity, parseUnit, type Quantity } from '../../quantity/index.ts';
import {
  ambiguous,
  dayText,
  partText,
  type Reading,
  type SentenceContext,
  type Understanding,
  wordsUnknown,
} from './context.ts';
import { asksForSeveral, meaning, type NamedPart, partsNamed, unknownWords } from './names.ts';
import { stem } from './stems.ts';
import type { Figure, Piece } from './tokens.ts';

interface Spoken {
  readonly words: string[];
  readonly figures: Figure[];
}

/** Pieces without words belong to the piece before them. */
function joined(pieces: readonly Piece[]): Spoken[] {
  const spoken: Spoken[] = [];
  for (const piece of pieces) {
    const last = spoken.at(-1);
    if (last && meaning(piece.words).length === 0) last.figures.push(...piece.figures);
    else spoken.push({ words: [...piece.words], figures: [...piece.figures] });
  }
  return spoken;
}

const isTemperature = (figure: Figure): boolean =>
  figure.quantity !== undefined && dimensionOf(figure.quantity.unit) === 'temperature';
const isElevation = (figure: Figure): boolean =>
  figure.quantity !== undefined && ['ft', 'm'].includes(figure.quantity.unit) && figure.after === 'at';

export const readingsIn: Understanding = (context) => {
  const spoken = joined(context.tokens.pieces);
  const figures = spoken.flatMap((one) => one.figures);
  if (figures.length === 0 || spoken.every((one) => meaning(one.words).length === 0)) return undefined;
  const surroundings = around(figures);
  if (!surroundings.ok) return surroundings;
  const read: Reading[] = [];
  for (const one of spoken) {
    const each = readingsOf(context, one, surroundings.value);
    if (!each.ok) return each;
    read.push(...each.value);
  }
  return ok(read);
};

interface Surroundings {
  readonly temperature?: Quantity;
  readonly elevation?: Quantity;
}

/** Air temperature and height, said once for the whole sentence. A lone temperature is itself what was read. */
function around(figures: readonly Figure[]): Result<Surroundings> {
  const temperatures = figures.filter(isTemperature);
  const elevations = figures.filter(isElevation);
  if (temperatures.length === figures.length - elevations.length) return ok({});
  if (temperatures.length > 1 || elevations.length > 1) {
    return fail({
      code: 'sentence.figure-many',
      what: 'Two temperatures or heights are given',
      expected: 'one for the whole sentence',
      next: 'Write a sentence for each.',
    });
  }
  return ok({
    ...(temperatures[0] ? { temperature: temperatures[0].quantity! } : {}),
    ...(elevations[0] ? { elevation: elevations[0].quantity! } : {}),
  });
}

function readingsOf(
  { names, tokens }: SentenceContext,
  { words, figures }: Spoken,
  surroundings: Surroundings,
): Result<Reading[]> {
  const measured = figures.filter(
    (figure) => !(surroundings.temperature && isTemperature(figure)) && !isElevation(figure),
  );
  const stems = meaning(words);
  if (measured.length !== 1) {
    const what = measured.length
      ? `I cannot place ${measured.map((figure) => figure.text).join(' and ')}`
      : `Nothing was read on “${words.join(' ')}”`;
    return fail({
      code: measured.length ? 'sentence.figure-many' : 'sentence.figure-missing',
      what,
      expected: 'one figure for each thing: “spare 41 psi”',
    });
  }
  const [figure] = measured as [Figure];
  if (!figure.quantity)
    return fail({
      code: 'quantity.unit-missing',
      what: `${figure.text} has no unit`,
      expected: 'a figure with its unit: “41 psi”',
    });
  const unknown = unknownWords(names, words);
  if (unknown.length) return wordsUnknown(unknown, tokens.text);
  const found = candidates(partsNamed(names, stems), stems, figure.quantity);
  if (found.length === 0) return nothingRead(partsNamed(names, stems), words, figure);
  const kinds = new Set(found.map((one) => `${one.named.part.kind} ${one.what}`));
  if (
    kinds.size > 1 ||
    (found.length > 1 &&
      !asksForSeveral(
        words,
        found.map((one) => one.named),
      ))
  ) {
    return ambiguous(
      `“${words.join(' ')}” fits several`,
      found.map((one) => `${one.what} of the ${partText(one.named)}`),
      'Say which one, by its name or place, or “all”.',
    );
  }
  const value = figure.quantity;
  return ok(
    found.map(({ named, what }) => ({
      draft: {
        kind: 'reading',
        on: tokens.on,
        body: { part: named.part.id, what, value, ...surroundings, ...(tokens.note ? { note: tokens.note } : {}) },
      },
      said: `Read on ${dayText(tokens.on)}: ${what.replaceAll('-', ' ')} of the ${partText(named)} is ${formatQuantity(value)}${surroundings.temperature ? ` at ${formatQuantity(surroundings.temperature)}` : ''}${surroundings.elevation ? `, ${formatQuantity(surroundings.elevation)} high` : ''}.`,
    })),
  );
}

interface Candidate {
  readonly named: NamedPart;
  readonly what: string;
}

/** The readings of one dimension that the catalog knows for these parts; those named in the words outrank the rest. */
function candidates(parts: readonly NamedPart[], stems: readonly string[], value: Quantity): Candidate[] {
  const dimension = dimensionOf(value.unit);
  const all = parts.flatMap((named) => {
    const whats = named.upkeeps.flatMap((upkeep) =>
      upkeep.readings.filter((reading) => parseUnit(reading.unit, dimension).ok).map((reading) => reading.what),
    );
    return [...new Set(whats)].map((what) => ({ named, what }));
  });
  const score = (one: Candidate): number =>
    one.what
      .split('-')
      .map(stem)
      .filter((word) => stems.includes(word)).length;
  const best = Math.max(0, ...all.map(score));
  return all.filter((one) => score(one) === best);
}

function nothingRead(parts: readonly NamedPart[], words: readonly string[], figure: Figure): Result<never> {
  const dimension = dimensionOf(figure.quantity!.unit).replaceAll('-', ' ');
  if (parts.length === 0) return wordsUnknown(words, words.join(' '));
  const kinds = [...new Set(parts.map((one) => (one.kind?.name ?? one.part.kind).toLowerCase()))];
  const whats = [
    ...new Set(
      parts.flatMap((one) =>
        one.upkeeps.flatMap((upkeep) =>
          upkeep.readings.map((reading) => `${reading.what.replaceAll('-', ' ')} (${reading.unit})`),
        ),
      ),
    ),
  ];
  return fail({
    code: 'sentence.ambiguous',
    what: `${figure.text}: nothing of ${dimension} is read on ${kinds.slice(0, 4).join(', ')}`,
    expected: whats.length ? whats.slice(0, 6).join(', ') : 'a part on which something is read',
  });
}
