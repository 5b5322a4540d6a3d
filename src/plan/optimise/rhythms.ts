import type { Decided } from './decided.ts';
import type { Direction, Relaxed } from './direction.ts';
import { KnownRhythms } from './known.ts';
import type { Model } from './model.ts';
import { copyPrices, freePrices, type Prices, type PricesKept } from './prices.ts';
import { BOUND_MARGIN } from './relaxation.ts';
import { Rhythm } from './rhythm.ts';

/** Rounds that go into the shares of a group before it is solved. */
const SHARE_ROUNDS = 10;

/**
 * The stronger relaxation: each group finds its best rhythm as a whole, its jobs' paths included. Priced are only what couples groups:
 * what a group pays towards a day, what a minute costs, and what a job pays to its further set-ups beside the one it belongs to.
 */
export class Rhythms implements Relaxed {
  readonly model: Model;
  readonly now: Prices;
  /** By group: its exact solution, the rhythms it has had, and the one last found, as bits; the days then set up; by job: its path. */
  readonly rhythms: readonly Rhythm[];
  readonly #known: readonly KnownRhythms[];
  readonly setUp: Int32Array;
  days = 0;
  readonly visits: Int32Array;
  /** By use: 1 when its job belongs to another group by another use. Only these are priced. */
  readonly #further: Uint8Array;
  /** What setting up the group at hand costs by slot, without its minutes. */
  readonly #open: Float64Array;

  constructor(model: Model) {
    this.model = model;
    this.now = freePrices(model);
    this.setUp = new Int32Array(model.groups);
    this.visits = new Int32Array(model.jobs);
    const home = homeUses(model);
    this.rhythms = home.map((uses, g) => new Rhythm(model, g, uses));
    this.#further = new Uint8Array(model.useJob.length).fill(1);
    for (const uses of home) for (const u of uses) this.#further[u] = 0;
    this.#known = this.rhythms.map((rhythm) => new KnownRhythms(model, rhythm, this.#further));
    this.#open = new Float64Array(model.nodes);
  }

  get work(): number {
    let work = 0;
    for (const rhythm of this.rhythms) work += rhythm.work;
    for (const known of this.#known) work += known.work;
    return work;
  }

  /** Take over prices of the weaker relaxation: what the set-ups of a slot have left over is what their groups pay towards the day. */
  adopt(prices: PricesKept, decided: Decided): void {
    const { groups, nodes, slots, groupCost, groupMinutes, groupStart, groupUses } = this.model;
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
    this.setUp.set(rhythms);
    this.#forgive(decided);
  }

  /** What is paid for whatever happens needs no price. */
  #forgive(decided: Decided): void {
    const { useGroup, groups, nodes } = this.model;
    const { use, day } = this.now;
    for (let u = 0; u < useGroup.length; u++)
      for (let rest = decided.setOpen[useGroup[u] as number] as number; rest !== 0; rest &= rest - 1)
        use[u * nodes + 31 - Math.clz32(rest & -rest)] = 0;
    for (let rest = decided.dayOpen; rest !== 0; rest &= rest - 1)
      for (let g = 0, t = 31 - Math.clz32(rest & -rest); g < groups; g++) day[g * nodes + t] = 0;
  }

  /** Who needs what is not there pulls its price up, what is there for nobody pulls it down. */
  pull(direction: Direction, { dayOpen, setOpen }: Decided): void {
    const { groups, useJob, useGroup } = this.model;
    for (let g = 0; g < groups; g++) direction.pullDay(g, (this.setUp[g] as number) & ~dayOpen, this.days & ~dayOpen);
    for (let u = 0; u < useJob.length; u++) {
      if (!this.#further[u]) continue;
      const g = useGroup[u] as number;
      const undecided = ~(setOpen[g] as number);
      direction.pullUse(
        u,
        (this.visits[useJob[u] as number] as number) & undecided,
        (this.setUp[g] as number) & undecided,
      );
    }
    direction.pullMinutes(this);
  }

  /** What is left to pay of day `t` after what groups pay towards it and what its minutes fetch. */
  dayLeft(t: number): number {
    const { groups, nodes, dayCost, capacity, hasCapacity } = this.model;
    const { minute, day } = this.now;
    let left = dayCost[t] as number;
    if (hasCapacity) left -= (minute[t] as number) * (capacity[t] as number);
    for (let g = 0, at = t; g < groups; g++, at += nodes) left -= day[at] as number;
    return left;
  }

  /** The bound at the present prices; Infinity when nothing is left. */
  evaluate(decided: Decided): number {
    let total = this.#openDays(decided);
    for (const rhythm of this.rhythms) {
      const g = rhythm.group;
      this.#price(rhythm, decided);
      rhythm.best = this.setUp[g] as number;
      if (!rhythm.solve(decided.setClosed[g] as number, decided.setOpen[g] as number, SHARE_ROUNDS))
        return Number.POSITIVE_INFINITY;
      this.#learn(rhythm);
      (this.#known[g] as KnownRhythms).add(rhythm, this.#open, this.now);
      this.setUp[g] = rhythm.best;
      total += rhythm.value;
    }
    return total - BOUND_MARGIN * (1 + Math.abs(total));
  }

  /** As `evaluate`, over the rhythms known; Infinity when some group has none that is allowed. */
  evaluateKnown(decided: Decided): number {
    const { useJob } = this.model;
    let total = this.#openDays(decided);
    for (const { group: g, uses } of this.rhythms) {
      const known = this.#known[g] as KnownRhythms;
      this.#priceOpening(g);
      total += known.findCheapest(this.#open, this.now, decided);
      if (total === Number.POSITIVE_INFINITY) return total;
      this.setUp[g] = known.rhythm;
      for (let k = 0; k < uses.length; k++) this.visits[useJob[uses[k] as number] as number] = known.visits(k);
    }
    return total;
  }

  /** Open the days that pay for themselves, or must be: what they cost beyond what is paid for them. */
  #openDays(decided: Decided): number {
    let total = 0;
    this.days = 0;
    for (let t = 1; t <= this.model.slots; t++) {
      const bit = 1 << t;
      if (decided.dayClosed & bit) continue;
      const left = this.dayLeft(t);
      if (left >= 0 && !(decided.dayOpen & bit)) continue;
      total += left;
      this.days |= bit;
    }
    return total;
  }

  #priceOpening(g: number): void {
    const { nodes, slots, groupCost, groupStart, groupUses } = this.model;
    const { use, day } = this.now;
    const open = this.#open;
    for (let t = 1; t <= slots; t++) open[t] = (groupCost[g] as number) + (day[g * nodes + t] as number);
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const u = groupUses[k] as number;
      if (this.#further[u])
        for (let t = 1; t <= slots; t++) open[t] = (open[t] as number) - (use[u * nodes + t] as number);
    }
  }

  /** What setting up costs the group, and what its members pay beside. */
  #price(rhythm: Rhythm, decided: Decided): void {
    const { nodes, slots, groupMinutes, useJob, useStart, useGroup, jobMinutes } = this.model;
    const { use, minute } = this.now;
    const { group: g, open, pay, share, uses, members } = rhythm;
    this.#priceOpening(g);
    for (let t = 1; t <= slots; t++)
      open[t] = (this.#open[t] as number) + (minute[t] as number) * (groupMinutes[g] as number);
    for (let k = 0; k < members; k++) {
      const j = useJob[uses[k] as number] as number;
      for (let t = 1, at = members + k, own = (uses[k] as number) * nodes + 1; t <= slots; t++, at += members, own++) {
        pay[at] = (minute[t] as number) * (jobMinutes[j] as number);
        share[at] = use[own] as number;
      }
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
        if (!this.#further[u]) continue;
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
    const { nodes, slots, useJob } = this.model;
    const { uses, members, share, visits } = rhythm;
    const { use } = this.now;
    for (let k = 0; k < members; k++) {
      const u = uses[k] as number;
      this.visits[useJob[u] as number] = visits[k] as number;
      for (let t = 1; t <= slots; t++) use[u * nodes + t] = share[t * members + k] as number;
    }
  }
}

/** By group, the uses by which jobs belong to it: a job's set-up that is dearest for the number of jobs sharing it. */
function homeUses({ jobs, groups, useStart, useGroup, groupCost, groupStart }: Model): number[][] {
  const home = Array.from({ length: groups }, (): number[] => []);
  const each = (u: number): number => {
    const g = useGroup[u] as number;
    return (groupCost[g] as number) / ((groupStart[g + 1] as number) - (groupStart[g] as number));
  };
  for (let j = 0; j < jobs; j++) {
    let best = useStart[j] as number;
    for (let u = best + 1; u < (useStart[j + 1] as number); u++) if (each(u) > each(best)) best = u;
    home[useGroup[best] as number]?.push(best);
  }
  return home;
}
