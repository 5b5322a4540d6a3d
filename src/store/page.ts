/** Most entries of one page. */
export const PAGE_MAX = 5000;

/** A page's size within its bounds. A caller outside them is our own mistake: the edges check what people ask for. */
export function pageLimit(limit: number): number {
  if (!Number.isInteger(limit) || limit < 1 || limit > PAGE_MAX)
    throw new RangeError(`a page has 1 to ${PAGE_MAX} entries, not ${limit}`);
  return limit;
}
