import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../test/support/catalog.ts';
import { demoEntries } from '../../../test/support/demo.ts';
import { type Draft, foldEntries } from '../index.ts';
import { isPast } from './not-done.ts';
import { understand } from './understand.ts';

const about = { state: foldEntries(demoEntries()), catalog: shippedCatalog(), today: '2026-06-22', by: 'Nell' };

/** What a draft says is done and good, or holds on good evidence. */
function good({ kind, body }: Draft): boolean {
  if (kind === 'work') return body.done.some(({ outcome }) => outcome === 'good');
  if (kind === 'drill') return body.outcome === 'good';
  return kind === 'reading' || kind === 'paper' || kind === 'trip-done';
}

/** Everything a sentence would have written down as good. */
function goodIn(text: string): readonly Draft[] {
  const read = understand(text, about);
  return read.ok ? read.value.drafts.filter(good) : [];
}

const corpus = readFileSync(new URL('./not-done.corpus.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'));

describe('what was not done, not wholly, or not well', () => {
  it('has a corpus to speak of', () => expect(corpus.length).toBeGreaterThanOrEqual(120));

  it.each(corpus)('“%s” is no proof', (text) => {
    expect(goodIn(text)).toEqual([]);
    const read = understand(text, about);
    if (!read.ok)
      for (const one of read.problems)
        expect(one.what.length + (one.expected ?? one.next ?? '').length).toBeGreaterThan(20);
  });
});

const ENDINGS = ['', ' at 64,120', ', 1 h 20 min, $12', ' - pin was stiff'];
/** Sentences that are good as they stand (tried below), by their head and what may follow. */
const GOOD = [
  'tested breakaway',
  'repacked axle 2',
  'adjusted brakes',
  'torqued wheels',
  'changed engine oil',
  'set spare to 65 psi',
  'practised jack by hand',
  'requalified left cylinder to 2031-05',
  'brakes adjusted',
  'adjusted brakes axle 2 and torqued wheels at 64,130',
];

describe('good sentences', () => {
  it.each([
    ...GOOD,
    ...ENDINGS.map((ending) => `adjusted brakes${ending}`),
    'gas leak drop test done',
    'axle 2 was repacked at 64,120',
    'breakaway test good',
    'breakaway has been tested',
    'tested breakaway - in the rain, with cold hands',
    'torqued wheels at 64,130 - 110 lb-ft in three rounds, by Ben',
  ])('“%s” is done and good', (text) => {
    expect(goodIn(text)).not.toEqual([]);
  });

  it.each([
    'tested breakaway, it failed',
    'tested breakaway, failed',
    'tested breakaway, no good',
    'tested breakaway, did not work',
  ])('“%s” is done and failed', (text) => {
    const read = understand(text, about);
    expect(read).toMatchObject({ ok: true, value: { drafts: [{ body: { done: [{ outcome: 'failed' }] } }] } });
  });

  it('gives an example that works', () => {
    const read = understand('did not test breakaway', about);
    if (read.ok) throw new Error(read.value.understood);
    const examples = [...read.problems[0]!.expected!.matchAll(/“([^”]+)”/g)].map(([, example]) => example!);
    expect(examples.length).toBeGreaterThan(0);
    for (const example of examples) expect(understand(example, about)).toMatchObject({ ok: true });
  });
});

describe('a sign anywhere in a good sentence makes it a question', () => {
  const sign = fc.constantFrom(
    ...'not|never|no|didn’t|did not|wasn’t|don’t|nothing|without|forgot to|skipped|will|need to|should|must|going to|plan to|want to|to be|tomorrow|next week|maybe|probably|i think|not sure|except|but|only|half|partly|most of|some of|almost|nearly|except the left|started|still|failed to|not really|unless|if'.split(
      '|',
    ),
  );
  const failure = fc.constantFrom(
    ...'failed|did not hold|broke|broken|is stuck|still leaks|cracked|too hot|worn out|bad|weak|loose|wrong|problem|not good|dragging'.split(
      '|',
    ),
  );
  const dash = fc.constantFrom(' - ', ' – ', ' — ', ' note: ');
  const runs = { numRuns: 400 };

  it('between its words, before it, behind it', () => {
    fc.assert(
      fc.property(fc.constantFrom(...GOOD), sign, fc.nat(), (text, said, at) => {
        const words = text.split(' ');
        const where = at % (words.length + 1);
        const mixed = [...words.slice(0, where), said, ...words.slice(where)].join(' ');
        expect(goodIn(mixed).filter(({ kind }) => kind === 'work' || kind === 'drill')).toEqual([]);
      }),
      runs,
    );
  });

  it('after a dash, a failure too', () => {
    fc.assert(
      fc.property(fc.constantFrom(...GOOD), fc.oneof(sign, failure), dash, (text, said, by) => {
        expect(goodIn(`${text}${by}${said}`)).toEqual([]);
      }),
      runs,
    );
  });

  it('a question mark', () => {
    fc.assert(
      fc.property(fc.constantFrom(...GOOD), fc.constantFrom('?', ' ?', '??', '？', '?!', ' right?'), (text, mark) => {
        expect(goodIn(`${text}${mark}`)).toEqual([]);
      }),
      runs,
    );
  });

  it('a verb that is not in the past', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('test', 'tests', 'testing', 'retest'),
        fc.constantFrom('', ' at 64,120', ' now', ' again'),
        (verb, rest) => {
          expect(goodIn(`${verb} breakaway${rest}`)).toEqual([]);
        },
      ),
      runs,
    );
  });
});

it.each([
  ['tested', true],
  ['set', true],
  ['blew', true],
  ['test', false],
  ['testing', false],
  ['bleed', false],
  ['need', false],
  ['feeds', false],
])('“%s” in the past: %s', (verb, past) => expect(isPast(verb)).toBe(past));

it('a sentence as long as a book is refused unread', () => {
  const read = understand('tested breakaway '.repeat(10_000), about);
  expect(read).toMatchObject({ ok: false, problems: [{ code: 'sentence.long' }] });
});
