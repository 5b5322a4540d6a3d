/** Words that may have been meant. */

/** Share of letter pairs two words have in common, 0 to 1 (Dice). */
function likeness(a: string, b: string): number {
  const pairs = (text: string) => Array.from({ length: Math.max(0, text.length - 1) }, (_, i) => text.slice(i, i + 2));
  const [first, second] = [pairs(a.toLowerCase()), pairs(b.toLowerCase())];
  const left = [...second];
  const shared = first.filter((pair) => {
    const i = left.indexOf(pair);
    if (i >= 0) left.splice(i, 1);
    return i >= 0;
  }).length;
  return (2 * shared) / Math.max(1, first.length + second.length);
}

/** Up to three of the known words, the likest first; none where none is like it. */
export function nearest(word: string, known: readonly string[]): readonly string[] {
  return known
    .map((one) => ({ one, score: likeness(word, one) }))
    .filter(({ score }) => score > 0.4)
    .sort((a, b) => b.score - a.score)
    .slice(0, 3)
    .map(({ one }) => one);
}
