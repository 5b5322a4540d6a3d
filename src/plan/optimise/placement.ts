import { MINUTES_TOLERANCE } from './cost.ts';
import type { Model } from './model.ts';
import { PathFinder } from './paths.ts';

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
  readonly overloadPrice: number;
  /** The cheapest path of each job were it alone and everything set up for free: inserting it can cost no less. */
  readonly least: Float64Array;

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
    const paths = new PathFinder(model);
    this.least = Float64Array.from({ length: jobs }, (_, j) => paths.cheapest(j, -1));
    let dearest = 1;
    for (const arc of model.arc) if (arc !== Number.POSITIVE_INFINITY) dearest = Math.max(dearest, Math.abs(arc));
    this.overloadPrice = dearest;
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

  /** Put a lifted job back by its cheapest path that avoids the `forbidden` slots. False (nothing placed) when there is none. */
  insert(j: number, forbidden: number): boolean {
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
      if (from < 0) continue;
      list[count] = t;
      before[count] = from;
      reach[count++] = t === end ? best : best + this.#addedCost(j, t);
    }
    if (list[count - 1] !== end) return false;
    let visits = 0;
    for (let k = before[count - 1] as number; k > 0; k = before[k] as number) visits |= 1 << (list[k] as number);
    this.place(j, visits);
    return true;
  }

  /** What doing job `j` on slot `t` adds beside its interval: set-ups and the day if nobody has paid for them, and overload. */
  #addedCost(j: number, t: number): number {
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
    if (!hasCapacity) return cost;
    const now = (this.minutes[t] as number) - (capacity[t] as number);
    const over = now + added;
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
