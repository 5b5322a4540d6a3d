import { MINUTES_TOLERANCE } from './cost.ts';
import type { Model } from './model.ts';

/**
 * A plan held job by job, with who uses what on each slot counted, so that a job can be lifted out and put back by the path that
 * is cheapest *as things stand*: a set-up others have already paid for is free, and minutes that do not fit cost `overloadPrice` each.
 * Works with and without a limit on hours.
 */
export class Placement {
  readonly model: Model;
  /** By job, as bits of slots. */
  readonly visits: Int32Array;
  readonly minutes: Float64Array;
  /** Cost of what is placed, overload not counted. */
  cost = 0;
  /** Minutes beyond what slots have, summed. */
  overload = 0;
  /** Jobs inserted so far: the measure of work. */
  work = 0;
  /** What a minute of overload costs the search: at most `overloadPriceMost`, at which no plan over its hours is worth having. */
  overloadPrice: number;
  readonly overloadPriceMost: number;
  /** The cheapest path of each job were it alone and everything set up for free: inserting it can cost no less. */
  readonly least: Float64Array;

  readonly #leastFrom: Float64Array;
  readonly #leastThrough: Float64Array;

  /** Jobs (and reservations) using group `g` on slot `t`: `#users[g * nodes + t]`; groups in use on a slot. */
  readonly #users: Int32Array;
  readonly #groupsAt: Int32Array;
  readonly #keptUsers: Int32Array;
  readonly #keptGroupsAt: Int32Array;
  readonly #keptMinutes: Float64Array;
  #keptCost = 0;
  #keptOverload = 0;
  readonly #list: Int32Array;
  readonly #reach: Float64Array;
  readonly #before: Int32Array;

  constructor(model: Model) {
    const { jobs, groups, nodes } = model;
    this.model = model;
    this.visits = new Int32Array(jobs);
    this.minutes = new Float64Array(nodes);
    this.#users = new Int32Array(groups * nodes);
    this.#groupsAt = new Int32Array(nodes);
    this.#keptUsers = new Int32Array(groups * nodes);
    this.#keptGroupsAt = new Int32Array(nodes);
    this.#keptMinutes = new Float64Array(nodes);
    this.#list = new Int32Array(nodes);
    this.#reach = new Float64Array(nodes);
    this.#before = new Int32Array(nodes);
    this.least = new Float64Array(jobs);
    this.#leastFrom = new Float64Array(jobs * nodes);
    this.#leastThrough = new Float64Array(jobs * nodes);
    for (let j = 0; j < jobs; j++) this.#findLeast(j);
    let dearest = 1;
    for (const arc of model.arc) if (arc !== Number.POSITIVE_INFINITY) dearest = Math.max(dearest, Math.abs(arc));
    this.overloadPriceMost = dearest;
    this.overloadPrice = dearest;
  }

  /** What job `j` costs at the least: at all, from each node on, and on a path through it. */
  #findLeast(j: number): void {
    const { nodes, arc } = this.model;
    const end = nodes - 1;
    const to = this.#reach.fill(Number.POSITIVE_INFINITY);
    const from = this.#leastFrom.subarray(j * nodes, (j + 1) * nodes).fill(Number.POSITIVE_INFINITY);
    to[0] = 0;
    from[end] = 0;
    for (let t = 1; t <= end; t++)
      for (let s = 0; s < t; s++)
        to[t] = Math.min(to[t] as number, (to[s] as number) + (arc[(j * nodes + t) * nodes + s] as number));
    for (let s = end - 1; s >= 0; s--)
      for (let t = s + 1; t <= end; t++)
        from[s] = Math.min(from[s] as number, (from[t] as number) + (arc[(j * nodes + t) * nodes + s] as number));
    for (let t = 0; t <= end; t++) this.#leastThrough[j * nodes + t] = (to[t] as number) + (from[t] as number);
    this.least[j] = to[end] as number;
  }

  /** Cost with the overload priced: what the search minimises. */
  get priced(): number {
    return this.cost + this.overload * this.overloadPrice;
  }

  /** Is group `g` set up on slot `t`? */
  uses(g: number, t: number): boolean {
    return this.#users[g * this.model.nodes + t] !== 0;
  }

  /** Nothing placed, nothing paid. */
  clear(): void {
    this.visits.fill(0);
    this.#users.fill(0);
    this.#groupsAt.fill(0);
    this.minutes.fill(0);
    this.cost = 0;
    this.overload = 0;
  }

  /** Start again from these paths. */
  load(visits: Int32Array): void {
    this.clear();
    for (let j = 0; j < this.model.jobs; j++) this.place(j, visits[j] as number);
  }

  /** Remember everything but the jobs' own paths, to come back to by `restore`. */
  keep(): void {
    this.#keptUsers.set(this.#users);
    this.#keptGroupsAt.set(this.#groupsAt);
    this.#keptMinutes.set(this.minutes);
    this.#keptCost = this.cost;
    this.#keptOverload = this.overload;
  }

  /** Back to what `keep` remembered; the caller puts back the paths. */
  restore(): void {
    this.#users.set(this.#keptUsers);
    this.#groupsAt.set(this.#keptGroupsAt);
    this.minutes.set(this.#keptMinutes);
    this.cost = this.#keptCost;
    this.overload = this.#keptOverload;
  }

  /** Use (or with `by` = -1 no longer use) group `g` on slot `t`, paying for the set-up and the day at the first user. */
  use(g: number, t: number, by: 1 | -1): void {
    const { nodes, groupCost, groupMinutes, dayCost } = this.model;
    const at = g * nodes + t;
    const after = (this.#users[at] as number) + by;
    this.#users[at] = after;
    const changes = by === 1 ? after === 1 : after === 0;
    if (!changes) return;
    this.cost += by * (groupCost[g] as number);
    this.#addMinutes(t, by * (groupMinutes[g] as number));
    const groupsAfter = (this.#groupsAt[t] as number) + by;
    this.#groupsAt[t] = groupsAfter;
    if (by === 1 ? groupsAfter === 1 : groupsAfter === 0) this.cost += by * (dayCost[t] as number);
  }

  /** May job `j` be done on exactly these slots? */
  allows(j: number, visits: number): boolean {
    return this.#pathCost(j, visits) < Number.POSITIVE_INFINITY;
  }

  /** What it would cost to put job `j` (not placed) on these slots; Infinity when it may not be. */
  costOn(j: number, visits: number): number {
    let cost = this.#pathCost(j, visits);
    if (cost === Number.POSITIVE_INFINITY) return cost;
    for (let rest = visits; rest !== 0; rest &= rest - 1)
      cost += this.#addedCost(j, 31 - Math.clz32(rest & -rest), Number.POSITIVE_INFINITY);
    return cost;
  }

  /** Would job `j`, placed and not on slot `t`, go there by a simple change (one more stop, or one in place of a neighbour)? */
  likes(j: number, t: number): boolean {
    const { nodes, arc } = this.model;
    const visits = this.visits[j] as number;
    const early = visits & ((1 << t) - 1);
    const late = (visits | (1 << (nodes - 1))) & -(2 << t);
    const a = lastOf(early);
    const b = lastOf(late & -late);
    const row = j * nodes;
    const there = arc[(row + t) * nodes + a] as number;
    const on = arc[(row + b) * nodes + t] as number;
    const past = arc[(row + b) * nodes + a] as number;
    if (there + on < past) return true;
    const a2 = lastOf(early & ~(1 << a));
    if (a > 0 && (arc[(row + t) * nodes + a2] as number) + on < (arc[(row + a) * nodes + a2] as number) + past)
      return true;
    const rest = late & (late - 1);
    if (rest === 0) return false;
    const b2 = lastOf(rest & -rest);
    return there + (arc[(row + b2) * nodes + t] as number) < past + (arc[(row + b2) * nodes + b] as number);
  }

  /** Put job `j` on these slots (it must not be placed). */
  place(j: number, visits: number): void {
    this.cost += this.#pathCost(j, visits);
    this.#useAll(j, visits, 1);
    this.visits[j] = visits;
  }

  /** Take job `j` out of the plan. */
  lift(j: number): void {
    const visits = this.visits[j] as number;
    this.cost -= this.#pathCost(j, visits);
    this.#useAll(j, visits, -1);
    this.visits[j] = 0;
  }

  /** Put a lifted job back by its cheapest path that avoids the `forbidden` slots. False (nothing placed) if none costs at most `most`. */
  insert(j: number, forbidden: number, most = Number.POSITIVE_INFINITY): boolean {
    const { nodes, arc, jobSlots } = this.model;
    const list = this.#list;
    const reach = this.#reach;
    const before = this.#before;
    const end = nodes - 1;
    this.work++;
    let count = 1;
    list[0] = 0;
    reach[0] = 0;
    for (let rest = ((jobSlots[j] as number) & ~forbidden) | (1 << end); rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      // Most slots are too dear whatever the rest of the path: only the others are worth their arcs.
      const spare = most - (this.#leastThrough[j * nodes + t] as number);
      const added = t === end || spare < 0 ? 0 : this.#addedCost(j, t, spare);
      if (added > spare) continue;
      const row = (j * nodes + t) * nodes;
      let best = Number.POSITIVE_INFINITY;
      let from = -1;
      for (let k = 0; k < count; k++) {
        const value = (reach[k] as number) + (arc[row + (list[k] as number)] as number);
        if (value < best) {
          best = value;
          from = k;
        }
      }
      if (from < 0 || best + added + (this.#leastFrom[j * nodes + t] as number) > most) continue;
      list[count] = t;
      before[count] = from;
      reach[count++] = best + added;
    }
    if (list[count - 1] !== end) return false;
    let visits = 0;
    for (let k = before[count - 1] as number; k > 0; k = before[k] as number) visits |= 1 << (list[k] as number);
    this.place(j, visits);
    return true;
  }

  /**
   * What doing job `j` on slot `t` adds beside its interval: set-ups and the day if nobody has paid for them, and overload. Beyond
   * `most` it is not counted to the end.
   */
  #addedCost(j: number, t: number, most: number): number {
    const { nodes, useStart, useGroup, groupCost, groupMinutes, dayCost, capacity, hasCapacity, jobMinutes } =
      this.model;
    let cost = this.#groupsAt[t] === 0 ? (dayCost[t] as number) : 0;
    let added = jobMinutes[j] as number;
    for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
      const g = useGroup[u] as number;
      if (this.#users[g * nodes + t] !== 0) continue;
      cost += groupCost[g] as number;
      added += groupMinutes[g] as number;
    }
    if (!hasCapacity || cost > most) return cost;
    const over = (this.minutes[t] as number) - (capacity[t] as number) + added;
    return over > MINUTES_TOLERANCE ? cost + Math.min(added, over) * this.overloadPrice : cost;
  }

  #addMinutes(t: number, by: number): void {
    if (!this.model.hasCapacity) return;
    const limit = (this.model.capacity[t] as number) + MINUTES_TOLERANCE;
    const before = this.minutes[t] as number;
    const after = before + by;
    this.minutes[t] = after;
    this.overload += Math.max(after - limit, 0) - Math.max(before - limit, 0);
  }

  #pathCost(j: number, visits: number): number {
    const { nodes, arc } = this.model;
    let last = 0;
    let cost = 0;
    for (let rest = visits | (1 << (nodes - 1)); rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      cost += arc[(j * nodes + t) * nodes + last] as number;
      last = t;
    }
    return cost;
  }

  #useAll(j: number, visits: number, by: 1 | -1): void {
    const { useStart, useGroup, jobMinutes } = this.model;
    for (let rest = visits; rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      this.#addMinutes(t, by * (jobMinutes[j] as number));
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) this.use(useGroup[u] as number, t, by);
    }
  }
}

/** The latest of these slots, or 0. */
function lastOf(slots: number): number {
  return slots === 0 ? 0 : 31 - Math.clz32(slots);
}
