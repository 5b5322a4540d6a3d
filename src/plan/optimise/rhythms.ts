import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { addAt, copyPrices, freePrices, movePrices, type Prices, type PricesKept } from './prices.ts';
import { BOUND_MARGIN } from './relaxation.ts';
import { Rhythm } from './rhythm.ts';

/** Rounds that go into the shares of a group before it is solved. */
const SHARE_ROUNDS = 6;
const PATIENCE = 6;
const STEP_CUT = 0.6;
const NEW_SHARE = 0.5;
const OLD_SHARE = 1 - NEW_SHARE;
const AIM_ABOVE = 0.02;
/** The answers are averaged over about this many evaluations. */
const AVERAGED = 10;

/**
 * The stronger relaxation: each group finds its best rhythm as a whole, its jobs' paths included. Priced are only what couples groups:
 * what a group pays towards a day, what a minute costs, and what a job pays to its further set-ups beside the one it belongs to.
 */
export class Rhythms {
  readonly now: Prices;
  readonly best: Prices;
  /** The bound at `best`, of the last climb. */
  bound = Number.NEGATIVE_INFINITY;
  /** Averages of the answers along the climb. */
  readonly setShare: Float64Array;
  readonly dayShare: Float64Array;
  /** By group: the rhythm last found; days then set up. */
  readonly setUp: Int32Array;
  days = 0;
  readonly rhythms: readonly Rhythm[];
  readonly #model: Model;
  /** Uses by which a job does not belong to a group: only these are priced. */
  readonly #further: Int32Array;
  readonly #isFurther: Uint8Array;
  readonly #visits: Int32Array;
  readonly #direction: Prices;
  #norm = 0;
  #step = 1;
  #since = 0;
  #rounds = 0;
  readonly #minutesScale: number;
  readonly #over: Float64Array;

  constructor(model: Model, minutesScale: number) {
    const { groups, nodes, jobs } = model;
    this.#model = model;
    this.now = freePrices(model);
    this.best = freePrices(model);
    this.#direction = freePrices(model);
    this.setShare = new Float64Array(groups * nodes);
    this.dayShare = new Float64Array(nodes);
    this.setUp = new Int32Array(groups);
    this.#visits = new Int32Array(jobs);
    this.#over = new Float64Array(nodes);
    this.#minutesScale = minutesScale;
    const home = homeUses(model);
    this.rhythms = Array.from(
      { length: groups },
      (_, g) =>
        new Rhythm(
          model,
          g,
          Array.from(home).filter((u) => model.useGroup[u] === g),
        ),
    );
    const homes = new Set(home);
    this.#further = Int32Array.from(model.useJob.keys()).filter((u) => !homes.has(u));
    this.#isFurther = Uint8Array.from(model.useJob.keys(), (u) => (homes.has(u) ? 0 : 1));
  }

  get work(): number {
    let work = 0;
    for (const rhythm of this.rhythms) work += rhythm.work;
    return work;
  }

  /** Take over prices of the weaker relaxation: what the set-ups of a slot have left over is what their groups pay towards the day. */
  adopt(prices: PricesKept, decided: Decided): void {
    const { groups, nodes, slots, groupCost, groupMinutes, groupStart, groupUses } = this.#model;
    const { use, minute, day } = this.now;
    use.set(prices.use);
    minute.set(prices.minute);
    for (let g = 0; g < groups; g++)
      for (let t = 1; t <= slots; t++) {
        let reduced = (groupCost[g] as number) + (minute[t] as number) * (groupMinutes[g] as number);
        for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++)
          reduced -= use[(groupUses[k] as number) * nodes + t] as number;
        day[g * nodes + t] = Math.max(0, -reduced);
      }
    this.#forgive(decided);
  }

  /** Go on from prices and rhythms as a branch keeps them. */
  load(prices: PricesKept, rhythms: Int32Array, decided: Decided): void {
    copyPrices(this.now, prices);
    for (const rhythm of this.rhythms) rhythm.best = rhythms[rhythm.group] as number;
    this.#forgive(decided);
  }

  /** What is paid for whatever happens needs no price. */
  #forgive(decided: Decided): void {
    const { useGroup, groups, nodes } = this.#model;
    const { use, day } = this.now;
    for (let u = 0; u < useGroup.length; u++)
      for (let rest = decided.setOpen[useGroup[u] as number] as number; rest !== 0; rest &= rest - 1)
        use[u * nodes + 31 - Math.clz32(rest & -rest)] = 0;
    for (let rest = decided.dayOpen; rest !== 0; rest &= rest - 1)
      for (let g = 0, t = 31 - Math.clz32(rest & -rest); g < groups; g++) day[g * nodes + t] = 0;
  }

  begin(step: number): void {
    this.bound = Number.NEGATIVE_INFINITY;
    this.#direction.use.fill(0);
    this.#direction.minute.fill(0);
    this.#direction.day.fill(0);
    this.#step = step;
    this.#since = 0;
    this.#rounds = 0;
    this.#norm = 0;
  }

  /** At most `rounds` evaluations, each a step further; true when going on is of no use. */
  climb(decided: Decided, rounds: number, target: number): boolean {
    const { now, best } = this;
    for (let k = 0; k < rounds; k++) {
      const value = this.evaluate(decided);
      this.#since++;
      if (value > this.bound) {
        if (value > this.bound + 1e-5 * Math.abs(value)) this.#since = 0;
        this.bound = value;
        copyPrices(best, now);
      }
      if (this.bound >= target) return true;
      if (this.#since > PATIENCE) {
        this.#step *= STEP_CUT;
        this.#since = 0;
        copyPrices(now, best);
      }
      this.#average(decided);
      this.#turn(this.#rounds === 0 ? 1 : NEW_SHARE, decided);
      this.#rounds++;
      if (this.#norm < 1e-12) return true;
      const aim = Math.min(target, this.bound + AIM_ABOVE * (1 + Math.abs(this.bound)));
      this.#move((this.#step * (aim - value)) / this.#norm);
    }
    return false;
  }

  /** What is left to pay of day `t` after what groups pay towards it and what its minutes fetch. */
  dayLeft(t: number): number {
    const { groups, nodes, dayCost, capacity, hasCapacity } = this.#model;
    const { minute, day } = this.now;
    let left = dayCost[t] as number;
    if (hasCapacity) left -= (minute[t] as number) * (capacity[t] as number);
    for (let g = 0, at = t; g < groups; g++, at += nodes) left -= day[at] as number;
    return left;
  }

  /** Back to the best prices of the climb: the bound there. */
  settle(decided: Decided): number {
    copyPrices(this.now, this.best);
    return this.evaluate(decided);
  }

  /** The bound at the present prices; Infinity when nothing is left. */
  evaluate(decided: Decided): number {
    const { slots } = this.#model;
    let total = 0;
    this.days = 0;
    for (let t = 1; t <= slots; t++) {
      const bit = 1 << t;
      if (decided.dayClosed & bit) continue;
      const value = this.dayLeft(t);
      if (value >= 0 && !(decided.dayOpen & bit)) continue;
      total += value;
      this.days |= bit;
    }
    for (const rhythm of this.rhythms) {
      const g = rhythm.group;
      this.#price(rhythm, decided);
      if (!rhythm.solve(decided.setClosed[g] as number, decided.setOpen[g] as number, SHARE_ROUNDS))
        return Number.POSITIVE_INFINITY;
      this.#learn(rhythm);
      this.setUp[g] = rhythm.best;
      total += rhythm.value;
    }
    return total - BOUND_MARGIN * (1 + Math.abs(total));
  }

  /** What setting up costs the group, and what its members pay beside. */
  #price(rhythm: Rhythm, decided: Decided): void {
    const { nodes, slots, groupCost, groupMinutes, groupStart, groupUses, useJob, useStart, useGroup, jobMinutes } =
      this.#model;
    const { use, minute, day } = this.now;
    const { group: g, open, pay, share, uses, members } = rhythm;
    for (let t = 1; t <= slots; t++)
      open[t] =
        (groupCost[g] as number) + (minute[t] as number) * (groupMinutes[g] as number) + (day[g * nodes + t] as number);
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const u = groupUses[k] as number;
      if (this.#isFurther[u])
        for (let t = 1; t <= slots; t++) open[t] = (open[t] as number) - (use[u * nodes + t] as number);
    }
    for (let k = 0; k < members; k++) {
      const j = useJob[uses[k] as number] as number;
      for (let t = 1, at = members + k, own = (uses[k] as number) * nodes + 1; t <= slots; t++, at += members, own++) {
        pay[at] = (minute[t] as number) * (jobMinutes[j] as number);
        share[at] = use[own] as number;
      }
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
        if (!this.#isFurther[u]) continue;
        const closed = decided.setClosed[useGroup[u] as number] as number;
        for (let t = 1; t <= slots; t++) {
          const at = t * members + k;
          pay[at] =
            (closed >>> t) & 1 ? Number.POSITIVE_INFINITY : (pay[at] as number) + (use[u * nodes + t] as number);
        }
      }
    }
  }

  /** Take over the shares the group has found, and its members' paths. */
  #learn(rhythm: Rhythm): void {
    const { nodes, slots, useJob } = this.#model;
    const { uses, members, share, visits } = rhythm;
    const { use } = this.now;
    for (let k = 0; k < members; k++) {
      const u = uses[k] as number;
      this.#visits[useJob[u] as number] = visits[k] as number;
      for (let t = 1; t <= slots; t++) use[u * nodes + t] = share[t * members + k] as number;
    }
  }

  #average(decided: Decided): void {
    const { nodes, groups, slots } = this.#model;
    const newest = Math.max(1 / (this.#rounds + 1), 1 / AVERAGED);
    const days = this.days | decided.dayOpen;
    for (let t = 1; t <= slots; t++) {
      this.dayShare[t] = (this.dayShare[t] as number) * (1 - newest) + newest * ((days >>> t) & 1);
      for (let g = 0, at = t; g < groups; g++, at += nodes)
        this.setShare[at] =
          (this.setShare[at] as number) * (1 - newest) + newest * (((this.setUp[g] as number) >>> t) & 1);
    }
  }

  /** Add the newest subgradient: who needs what is not there pulls its price up, what is there for nobody pulls it down. */
  #turn(weight: number, decided: Decided): void {
    const { nodes, groups, useJob, useGroup, hasCapacity } = this.#model;
    const { use, day } = this.now;
    const direction = this.#direction;
    for (let g = 0; g < groups; g++)
      this.#pull(
        day,
        direction.day,
        g * nodes,
        (this.setUp[g] as number) & ~decided.dayOpen,
        this.days & ~decided.dayOpen,
        weight,
      );
    for (const u of this.#further) {
      const open = decided.setOpen[useGroup[u] as number] as number;
      const visits = this.#visits[useJob[u] as number] as number;
      this.#pull(
        use,
        direction.use,
        u * nodes,
        visits & ~open,
        (this.setUp[useGroup[u] as number] as number) & ~open,
        weight,
      );
    }
    if (hasCapacity) this.#pullMinutes(weight);
  }

  #pull(price: Float64Array, direction: Float64Array, row: number, needs: number, has: number, weight: number): void {
    for (let rest = needs ^ has; rest !== 0; rest &= rest - 1) {
      const bit = rest & -rest;
      const at = row + 31 - Math.clz32(bit);
      const before = direction[at] as number;
      const after = before + (needs & bit ? weight : -weight);
      if (after < 0 && price[at] === 0) continue;
      direction[at] = after;
      this.#norm += after * after - before * before;
    }
  }

  #pullMinutes(weight: number): void {
    const { nodes, jobs, groups, jobMinutes, groupMinutes, capacity } = this.#model;
    const over = this.#over;
    for (let t = 1; t < nodes - 1; t++) over[t] = (this.days >>> t) & 1 ? -(capacity[t] as number) : 0;
    for (let j = 0; j < jobs; j++) addAt(over, this.#visits[j] as number, jobMinutes[j] as number);
    for (let g = 0; g < groups; g++) addAt(over, this.setUp[g] as number, groupMinutes[g] as number);
    const direction = this.#direction.minute;
    for (let t = 1; t < nodes - 1; t++) {
      const before = direction[t] as number;
      const after = before + weight * (over[t] as number) * this.#minutesScale;
      if (after < 0 && this.now.minute[t] === 0) continue;
      direction[t] = after;
      this.#norm += after * after - before * before;
    }
  }

  #move(step: number): void {
    const { now } = this;
    const direction = this.#direction;
    this.#norm =
      movePrices(now.use, direction.use, step, OLD_SHARE) + movePrices(now.day, direction.day, step, OLD_SHARE);
    if (this.#model.hasCapacity)
      this.#norm += movePrices(now.minute, direction.minute, step * this.#minutesScale, OLD_SHARE);
  }
}

/** The use by which each job belongs to a group: its set-up that is dearest for the number of jobs sharing it. */
function homeUses(model: Model): Int32Array {
  const { jobs, useStart, useGroup, groupCost, groupStart } = model;
  const each = (u: number): number => {
    const g = useGroup[u] as number;
    return (groupCost[g] as number) / ((groupStart[g + 1] as number) - (groupStart[g] as number));
  };
  return Int32Array.from({ length: jobs }, (_, j) => {
    let home = useStart[j] as number;
    for (let u = home + 1; u < (useStart[j + 1] as number); u++) if (each(u) > each(home)) home = u;
    return home;
  });
}
