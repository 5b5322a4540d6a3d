/** Tools, spares and loads that come aboard or leave. */
import { fail, ok } from '../../problem/index.ts';
import { formatQuantity } from '../../quantity/index.ts';
import { kitAboard } from '../state.ts';
import { ambiguous, dayText, type Understanding } from './context.ts';
import { kitNamed } from './names.ts';
import { figuresOfDimension } from './tokens.ts';

const ABOARD =
  /^(?:(?:we|i) )?(bought|stowed|packed|loaded|put|carried|carry|have|moved|took aboard) (?:a |an |the |new |another |our )*/i;
const ASHORE =
  /^(?:(?:we|i) )?(left|unloaded|unpacked|lost|sold|lent|removed|broke|took (?:out|off|ashore)) (?:a |an |the |our )*/i;
const AT_HOME = /\s+(?:at home|behind|ashore|in the garage|in the shed)$/i;
const PLACE = /^(.*?)(?:, ?| (?=(?:in|into|under|on|behind|by|inside) ))(?:(?:in|into) (?:the )?)?(.+)$/i;

/** `bought a seal driver, front locker`; `left the floor jack at home`. */
export const carriedIn: Understanding = ({ tokens, catalog, names, state }) => {
  const aboard = ABOARD.exec(tokens.text);
  const ashore = ASHORE.exec(tokens.text);
  const verb = aboard ?? ashore;
  if (!verb) return undefined;
  const figures = tokens.pieces.flatMap((piece) => piece.figures);
  const masses = figuresOfDimension(figures, 'mass');
  let said = tokens.text.slice(verb[0].length);
  for (const figure of figures) said = said.replace(figure.text, '');
  said = said.replace(/\s*,\s*(?=,|$)/g, '').trim();
  const [, named = said, where] = (ashore ? undefined : PLACE.exec(said)) ?? [];
  const words = named
    .replace(AT_HOME, '')
    .toLowerCase()
    .split(/[^a-z0-9-]+/)
    .filter((word) => word !== '');
  const items = kitNamed(catalog, words);
  // `removed the awning` speaks of a part, which is not a thing to stow.
  if (items.length === 0 && !aboard && names.parts.some((one) => words.every((word) => one.stems.has(word))))
    return undefined;
  const figuresLeft = figures.filter((figure) => !masses.includes(figure));
  if (figuresLeft.length || masses.length > 1)
    return fail({
      code: 'sentence.figure-many',
      what: `I cannot place ${figuresLeft.map((figure) => figure.text).join(', ') || 'two weights'}`,
      expected: 'at most one weight: “5 lb”',
    });
  if (items.length > 1)
    return ambiguous(
      `Several things go by “${words.join(' ')}”`,
      items.map((item) => `${item.name} (${item.id})`),
      'Name one of them.',
    );
  const item = items[0];
  if (!item) {
    return fail({
      code: 'sentence.item-unknown',
      what: `No tool or spare goes by “${words.join(' ')}”`,
      expected: nearItems(catalog, words).join('; ') || 'a tool or spare of the catalog',
    });
  }
  if (ashore && !kitAboard(state).has(item.id)) {
    return fail({
      code: 'sentence.item-unknown',
      what: `${item.name} is not aboard, as far as the logbook knows`,
      where: tokens.text,
    });
  }
  const weight = masses[0]?.quantity;
  return ok([
    {
      draft: {
        kind: 'carry',
        on: tokens.on,
        body: {
          item: item.id,
          aboard: aboard !== null,
          ...(where ? { where: where.trim() } : {}),
          ...(weight ? { weight } : {}),
        },
      },
      said: `${aboard ? 'Aboard' : 'No longer aboard'}: ${item.name}${where ? `, in: ${where.trim()}` : ''}${weight ? `, ${formatQuantity(weight)}` : ''}, from ${dayText(tokens.on)}.`,
    },
  ]);
};

const nearItems = (catalog: Parameters<typeof kitNamed>[0], words: readonly string[]): string[] =>
  [...new Set(words.flatMap((word) => kitNamed(catalog, [word]).map((item) => `${item.name} (${item.id})`)))].slice(
    0,
    4,
  );
