import type { Model } from './model.ts';
import { PathFinder } from './paths.ts';

/**
 * A plan held job by job, with who uses what on each slot counted, so that a job can be lifted out and put back by the path that
 * is cheapest *as things stand*: a set-up others have already paid for is free, and minutes that do not fit cost `overloadPrice` each.
 * Works with and without a limit on hours.
 */
export class Placement {
  readonly model: Model;
  readonly visits: Int32Array;
  /** Jobs (and reservations) using group `g` on slot `t`: `users[g * nodes + t]`. */
  readonly users: Int32Array;
  /** Groups in use on a slot. */
  readonly groupsAt: Int32Array;
  readonly minutes: Float64Array;
  /** Cost of what is placed, overload not counted. */
  cost = 0;
  /** Minutes beyond what slots have, summed. */
  overload = 0;
  work = 0;
  readonly overloadPrice: number;
  readonly #paths: PathFinder;
  readonly #price: Float64Array;

  constructor(model: Model) {
    this.model = model;
    this.visits = new Int32Array(model.jobs);
    this.users = new Int32Array(model.groups * model.nodes);
    this.groupsAt = new Int32Array(model.nodes);
    this.minutes = new Float64Array(model.nodes);
    this.#paths = new PathFinder(model);
    this.#price = new Float64Array(model.nodes);
    let dearest = 1;
    for (const arc of model.arc)
      if (arc !== Number.POSITIVE_INFINITY && Math.abs(arc) > dearest) dearest = Math.abs(arc);
    this.overloadPrice = dearest;
  }

  /** Cost with the overload priced: what the search minimises. */
  get priced(): number {
    return this.cost + this.overload * this.overloadPrice;
  }

  /** Nothing placed, nothing paid. */
  clear(): void {
    this.visits.fill(0);
    this.users.fill(0);
    this.groupsAt.fill(0);
    this.minutes.fill(0);
    this.cost = 0;
    this.overload = 0;
  }

  /** Start again from these paths. */
  load(visits: Int32Array): void {
    this.clear();
    for (let j = 0; j < this.model.jobs; j++) this.place(j, visits[j] as number);
  }

  /** Use (or with `by` = -1 no longer use) group `g` on slot `t`, paying for the set-up and the day at the first user. */
  use(g: number, t: number, by: 1 | -1): void {
    const { nodes, groupCost, groupMinutes, dayCost } = this.model;
    const at = g * nodes + t;
    const after = (this.users[at] as number) + by;
    this.users[at] = after;
    const changes = by === 1 ? after === 1 : after === 0;
    if (!changes) return;
    this.cost += by * (groupCost[g] as number);
    this.#addMinutes(t, by * (groupMinutes[g] as number));
    const groupsAfter = (this.groupsAt[t] as number) + by;
    this.groupsAt[t] = groupsAfter;
    if (by === 1 ? groupsAfter === 1 : groupsAfter === 0) this.cost += by * (dayCost[t] as number);
  }

  /** May job `j` be done on exactly these slots? */
  allows(j: number, visits: number): boolean {
    return this.#pathCost(j, visits) < Number.POSITIVE_INFINITY;
  }

  /** Put job `j` on these slots (it must not be placed). */
  place(j: number, visits: number): void {
    this.#onPath(j, visits, 1);
    this.visits[j] = visits;
  }

  /** Take job `j` out of the plan. */
  lift(j: number): void {
    this.#onPath(j, this.visits[j] as number, -1);
    this.visits[j] = 0;
  }

  /** Put a lifted job back by its cheapest path that avoids the `forbidden` slots. False (nothing placed) when there is none. */
  insert(j: number, forbidden: number): boolean {
    const { model } = this;
    const { nodes, useStart, useGroup, groupCost, groupMinutes, dayCost, capacity, hasCapacity } = model;
    const price = this.#price;
    for (let t = 1; t < nodes - 1; t++) {
      let cost = this.groupsAt[t] === 0 ? (dayCost[t] as number) : 0;
      let added = model.jobMinutes[j] as number;
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
        const g = useGroup[u] as number;
        if (this.users[g * nodes + t] !== 0) continue;
        cost += groupCost[g] as number;
        added += groupMinutes[g] as number;
      }
      if (hasCapacity) {
        const now = (this.minutes[t] as number) - (capacity[t] as number);
        const over = now + added;
        if (over > 1e-9) cost += (now > 0 ? added : over) * this.overloadPrice;
      }
      price[t] = cost;
    }
    this.work++;
    if (this.#paths.cheapestPriced(j, ~forbidden, price, 0) === Number.POSITIVE_INFINITY) return false;
    this.place(j, this.#paths.visits);
    return true;
  }

  #addMinutes(t: number, by: number): void {
    if (!this.model.hasCapacity) return;
    const limit = (this.model.capacity[t] as number) + 1e-9;
    const before = this.minutes[t] as number;
    const after = before + by;
    this.minutes[t] = after;
    this.overload += (after > limit ? after - limit : 0) - (before > limit ? before - limit : 0);
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

  #onPath(j: number, visits: number, by: 1 | -1): void {
    const { useStart, useGroup, jobMinutes } = this.model;
    this.cost += by * this.#pathCost(j, visits);
    for (let rest = visits; rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      this.#addMinutes(t, by * (jobMinutes[j] as number));
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) this.use(useGroup[u] as number, t, by);
    }
  }
}
