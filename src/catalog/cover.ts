/** Exact weighted hitting set for small instances: the cheapest items such that every need has one of its own. */

export interface CoverItem {
  readonly id: string;
  /** Non-negative. */
  readonly price: number;
}

interface Instance {
  readonly price: ReadonlyMap<string, number>;
  readonly needs: readonly (readonly string[])[];
}

/**
 * The cheapest set of items that serves every need, ids in order of name.
 *
 * @param needs for each need, the ids that serve it; at least one each
 * @throws if a need names no item that has a price
 */
export function leastCover(items: readonly CoverItem[], needs: readonly (readonly string[])[]): string[] {
  const price = new Map(items.map(({ id, price }) => [id, price]));
  const known = needs.map((need) => need.filter((id) => price.has(id)));
  if (known.some((need) => need.length === 0)) throw new Error('A need that no item serves reached the cover.');
  const { forced, rest } = reduce({ price, needs: known });
  return [...forced, ...branch({ price, needs: rest })].sort();
}

/** Repeats until nothing changes: a lone item is taken, a need implied by a smaller one dropped, a worse item dropped. */
function reduce({ price, needs }: Instance): { forced: string[]; rest: string[][] } {
  const forced = new Set<string>();
  let rest = needs.map((need) => [...new Set(need)]);
  for (let changed = true; changed; ) {
    const before = rest.reduce((size, need) => size + need.length, rest.length);
    for (const need of rest) if (need.length === 1) forced.add(need[0]!);
    rest = rest.filter((need) => !need.some((id) => forced.has(id)));
    rest = withoutImplied(rest);
    rest = withoutWorse(price, rest);
    changed = rest.reduce((size, need) => size + need.length, rest.length) !== before;
  }
  return { forced: [...forced], rest };
}

function withoutImplied(needs: readonly string[][]): string[][] {
  return needs.filter(
    (need, i) =>
      !needs.some(
        (other, j) => i !== j && other.every((id) => need.includes(id)) && (other.length < need.length || j < i),
      ),
  );
}

/** An item is not needed where another serves all it serves for no more; of equals the first by name stays. */
function withoutWorse(price: ReadonlyMap<string, number>, needs: readonly string[][]): string[][] {
  const serves = new Map<string, Set<number>>();
  needs.forEach((need, index) => {
    for (const id of need) serves.set(id, (serves.get(id) ?? new Set()).add(index));
  });
  const dropped = new Set<string>();
  for (const [id, own] of serves) {
    for (const [other, others] of serves) {
      if (other === id || dropped.has(other) || price.get(other)! > price.get(id)!) continue;
      if (![...own].every((need) => others.has(need))) continue;
      const equal = price.get(other) === price.get(id) && others.size === own.size;
      if (!equal || other < id) dropped.add(id);
    }
  }
  return needs.map((need) => need.filter((id) => !dropped.has(id)));
}

/** Branch on the need with the fewest items; bound by needs that share no item. */
function branch({ price, needs }: Instance): string[] {
  let best: string[] = [];
  let bestPrice = Number.POSITIVE_INFINITY;
  const cheapest = (need: readonly string[]) => Math.min(...need.map((id) => price.get(id)!));
  const bound = (open: readonly (readonly string[])[]) => {
    const used = new Set<string>();
    let sum = 0;
    for (const need of open) {
      if (need.some((id) => used.has(id))) continue;
      for (const id of need) used.add(id);
      sum += cheapest(need);
    }
    return sum;
  };
  const visit = (open: readonly (readonly string[])[], taken: readonly string[], spent: number) => {
    if (spent + bound(open) >= bestPrice) return;
    if (open.length === 0) {
      best = [...taken];
      bestPrice = spent;
      return;
    }
    const need = open.reduce((least, one) => (one.length < least.length ? one : least));
    const others = (id: string) => open.filter((one) => !one.includes(id));
    const order = [...need].sort((a, b) => price.get(a)! - price.get(b)! || (a < b ? -1 : 1));
    order.forEach((id, index) => {
      // Items tried before are left out here, so that no set is visited twice.
      const tried = new Set(order.slice(0, index));
      const left = others(id).map((one) => one.filter((other) => !tried.has(other)));
      if (left.every((one) => one.length > 0)) visit(left, [...taken, id], spent + price.get(id)!);
    });
  };
  visit(needs, [], 0);
  return best;
}
