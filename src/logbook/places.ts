/** `axle 2, left` and `axle 2, right` as `axle 2, left and right`; each place once, those without one left out. */
export function placesText(places: readonly string[]): string {
  const sides = new Map<string, string[]>();
  for (const place of new Set(places)) {
    if (place === '') continue;
    const [at, ...side] = place.split(', ');
    sides.set(at!, [...(sides.get(at!) ?? []), ...(side.length === 0 ? [] : [side.join(', ')])]);
  }
  return [...sides].map(([at, of]) => (of.length === 0 ? at : `${at}, ${of.join(' and ')}`)).join('; ');
}
