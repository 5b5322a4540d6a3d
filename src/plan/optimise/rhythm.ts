import type { Model } from './model.ts';

/** The step along which shares are improved: at first, and what it is cut to after so many rounds without gain. */
const STEP = 0.7;
const STEP_CUT = 0.6;
const PATIENCE = 3;
const NEW_SHARE = 0.5;
/** Beginnings of rhythms looked at before the search of one group is broken off with the bound it has. */
const LOOKS_MOST = 4000;
/** As much work as one shortest path: this many looks, times members. */
const LOOKS_A_PATH = 12;
const LEAST_GAIN = 1e-7;

/**
 * One group by itself, solved exactly: on which slots is it best set up, when setting up on slot `t` costs `open[t]`, a job pays
 * `pay` for being there, and every job of the group (a *member*) takes its cheapest path over the slots set up?
 *
 * Slots are decided one after the other, soonest first, all 2^slots ways if need be. What is still to come is bounded by a
 * relaxation: each member pays a share of the set-up and goes its own way. Good shares leave few beginnings worth a look.
 */
export class Rhythm {
  readonly group: number;
  /** The uses by which jobs belong to the group. */
  readonly uses: Int32Array;
  readonly members: number;
  /** By slot. */
  readonly open: Float64Array;
  /** By `t * members + k`: what a member pays for slot `t` beside the set-up; what it pays of the set-up while that is undecided. */
  readonly pay: Float64Array;
  readonly share: Float64Array;
  /** The best rhythm found, as bits of slots, and the path of each member over it. */
  best = 0;
  readonly visits: Int32Array;
  /** No rhythm costs less than this; and the relaxation at the present shares, which is lower still. */
  value = 0;
  #relaxed = 0;
  /** Measure of work, in shortest paths. */
  work = 0;

  readonly #slots: number;
  readonly #arc: Float64Array;
  /** `#toGo[(t * nodes + s) * members + k]`: the rest of member `k`'s path when last done at `s`, slots from `t` on still free. */
  readonly #toGo: Float64Array;
  /** What slots from `t` on add, each set up where the shares outweigh its cost. */
  readonly #tail: Float64Array;
  readonly #keptShare: Float64Array;
  readonly #direction: Float64Array;
  /** By `t * members + k`: cost of member `k` up to slot `t`, which the rhythm begun has. */
  readonly #reach: Float64Array;
  readonly #stack: Int32Array;
  readonly #along: Float64Array;
  readonly #before: Int32Array;
  #closed = 0;
  #must = 0;
  #cost = 0;
  #leastLeft = 0;
  #looks = 0;

  constructor(model: Model, group: number, uses: readonly number[]) {
    const { nodes, arc, useJob } = model;
    const members = uses.length;
    this.group = group;
    this.uses = Int32Array.from(uses);
    this.members = members;
    this.#slots = model.slots;
    this.open = new Float64Array(nodes);
    this.pay = new Float64Array(nodes * members);
    this.share = new Float64Array(nodes * members);
    this.visits = new Int32Array(members);
    this.#arc = new Float64Array(nodes * nodes * members);
    this.#toGo = new Float64Array(nodes * nodes * members);
    this.#tail = new Float64Array(nodes);
    this.#keptShare = new Float64Array(nodes * members);
    this.#direction = new Float64Array(nodes * members);
    this.#reach = new Float64Array(nodes * members);
    this.#stack = new Int32Array(nodes);
    this.#along = new Float64Array(nodes);
    this.#before = new Int32Array(nodes);
    uses.forEach((u, k) => {
      const j = useJob[u] as number;
      for (let t = 0; t < nodes; t++)
        for (let s = 0; s < nodes; s++)
          this.#arc[(t * nodes + s) * members + k] = arc[(j * nodes + t) * nodes + s] as number;
    });
  }

  /**
   * Find the best rhythm that leaves out the slots in `closed` and has those in `must`, starting from the one in `best`; `rounds` go
   * into the shares first. False when some member has no path left.
   */
  solve(closed: number, must: number, rounds: number): boolean {
    const all = ((1 << (this.#slots + 1)) - 2) & ~closed;
    this.#closed = closed;
    this.#must = must;
    this.best = (this.best & all) | must;
    this.#cost = this.#walk(this.best);
    if (this.#cost === Number.POSITIVE_INFINITY) {
      this.best = all;
      this.#cost = this.#walk(all);
      if (this.#cost === Number.POSITIVE_INFINITY) return false;
    }
    this.#relaxed = this.#improveShares(rounds);
    this.#leastLeft = Number.POSITIVE_INFINITY;
    this.#looks = 0;
    this.#reach.fill(0, 0, this.members);
    this.#stack[0] = 0;
    this.#goOn(this.#relaxed, 1, 1, 0, 0);
    this.work += (this.#looks * this.members) / LOOKS_A_PATH;
    this.value = Math.min(this.#cost, this.#leastLeft);
    this.#walk(this.best);
    return true;
  }

  /** How much the value rises at least when slot `t` is left out, and when it is set up, at what was last solved. */
  measureGains(closing: Float64Array, opening: Float64Array, at: number): void {
    const { members, open, pay, share } = this;
    const nodes = this.#slots + 2;
    const arc = this.#arc;
    const toGo = this.#toGo;
    const along = this.#along;
    const short = this.value - this.#relaxed;
    for (let t = 1; t < nodes - 1; t++) {
      let reduced = open[t] as number;
      for (let k = 0; k < members; k++) reduced -= share[t * members + k] as number;
      closing[at + t] = Math.max(0, -reduced) - short;
      opening[at + t] = Math.max(0, Math.max(0, reduced) - short);
    }
    for (let k = 0; k < members; k++) {
      const least = toGo[nodes * members + k] as number;
      for (let t = 1; t < nodes - 1; t++) {
        let reach = Number.POSITIVE_INFINITY;
        let around = Number.POSITIVE_INFINITY;
        for (let s = 0; s < t; s++) {
          const until = along[s] as number;
          reach = Math.min(reach, until + (arc[(t * nodes + s) * members + k] as number));
          around = Math.min(around, until + (toGo[((t + 1) * nodes + s) * members + k] as number));
        }
        const barred = ((this.#closed >>> t) & 1) === 1;
        along[t] = barred
          ? Number.POSITIVE_INFINITY
          : reach + (pay[t * members + k] as number) + (share[t * members + k] as number);
        closing[at + t] = (closing[at + t] as number) + around - least;
      }
    }
    for (let t = 1; t < nodes - 1; t++) closing[at + t] = Math.max(0, closing[at + t] as number);
    this.work += members;
  }

  /** What a rhythm costs, every member on its cheapest path over it; the paths go to `visits`. Infinity when one has none. */
  #walk(rhythm: number): number {
    const { members, open, pay } = this;
    const nodes = this.#slots + 2;
    const arc = this.#arc;
    const stops = this.#stack;
    const along = this.#along;
    const before = this.#before;
    let count = 1;
    let total = 0;
    stops[0] = 0;
    for (let rest = rhythm; rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      stops[count++] = t;
      total += open[t] as number;
    }
    stops[count] = nodes - 1;
    for (let k = 0; k < members; k++) {
      for (let i = 1; i <= count; i++) {
        const t = stops[i] as number;
        let least = Number.POSITIVE_INFINITY;
        for (let h = 0; h < i; h++) {
          const value = (along[h] as number) + (arc[(t * nodes + (stops[h] as number)) * members + k] as number);
          if (value >= least) continue;
          least = value;
          before[i] = h;
        }
        along[i] = i < count ? least + (pay[t * members + k] as number) : least;
      }
      total += along[count] as number;
      if (total === Number.POSITIVE_INFINITY) return total;
      let bits = 0;
      for (let i = before[count] as number; i > 0; i = before[i] as number) bits |= 1 << (stops[i] as number);
      this.visits[k] = bits;
    }
    this.work += members / 4;
    return total;
  }

  /** Move the shares for `rounds` rounds towards a higher relaxation; its value at the best shares, for which tables are ready. */
  #improveShares(rounds: number): number {
    const { share } = this;
    const kept = this.#keptShare;
    let best = Number.NEGATIVE_INFINITY;
    let step = STEP;
    let since = 0;
    this.#direction.fill(0);
    for (let round = 0; ; round++) {
      const value = this.#relax();
      since++;
      if (value > best) {
        best = value;
        kept.set(share);
        since = 0;
      } else if (since > PATIENCE) {
        step *= STEP_CUT;
        since = 0;
      }
      if (round >= rounds || value >= this.#cost - LEAST_GAIN || !this.#moveShares(step, value)) {
        if (value === best) return best;
        share.set(kept);
        return this.#relax();
      }
    }
  }

  /** The relaxation at the present shares: fills the tables of what is to come. */
  #relax(): number {
    const { members, open, pay, share } = this;
    const nodes = this.#slots + 2;
    const end = nodes - 1;
    const arc = this.#arc;
    const toGo = this.#toGo;
    const tail = this.#tail;
    this.work += members;
    toGo.set(arc.subarray(end * nodes * members, (end * nodes + end) * members), end * nodes * members);
    tail[end] = 0;
    for (let t = end - 1; t >= 1; t--) {
      const row = t * nodes * members;
      const rowAfter = row + nodes * members;
      const bit = 1 << t;
      if (this.#closed & bit) {
        toGo.copyWithin(row, rowAfter, rowAfter + t * members);
        tail[t] = tail[t + 1] as number;
        continue;
      }
      let reduced = open[t] as number;
      for (let k = 0, at = t * members; k < members; k++, at++) {
        const paid = share[at] as number;
        reduced -= paid;
        const beyond = (toGo[rowAfter + at] as number) + paid + (pay[at] as number);
        for (let s = 0, from = row + k, next = rowAfter + k; s < t; s++, from += members, next += members) {
          const stops = (arc[from] as number) + beyond;
          const passes = toGo[next] as number;
          toGo[from] = Math.min(stops, passes);
        }
      }
      tail[t] = (tail[t + 1] as number) + (reduced < 0 || this.#must & bit ? reduced : 0);
    }
    let value = tail[1] as number;
    for (let k = 0, at = nodes * members; k < members; k++, at++) value += toGo[at] as number;
    return value;
  }

  /** One step of the shares towards a relaxation where members and set-ups agree; false when they do. */
  #moveShares(step: number, value: number): boolean {
    const { members, open, share, visits } = this;
    const nodes = this.#slots + 2;
    const toGo = this.#toGo;
    const direction = this.#direction;
    for (let k = 0; k < members; k++) {
      let bits = 0;
      for (let t = 1, s = 0; t < nodes - 1; t++) {
        const here = toGo[(t * nodes + s) * members + k] as number;
        if (here >= (toGo[((t + 1) * nodes + s) * members + k] as number)) continue;
        bits |= 1 << t;
        s = t;
      }
      visits[k] = bits;
    }
    let norm = 0;
    for (let t = 1; t < nodes - 1; t++) {
      const bit = 1 << t;
      if (this.#closed & bit) continue;
      let reduced = open[t] as number;
      const first = t * members;
      for (let at = first; at < first + members; at++) reduced -= share[at] as number;
      const set = reduced < 0 || (this.#must & bit) !== 0 ? 1 : 0;
      for (let k = 0, at = first; k < members; k++, at++) {
        const pull = (((visits[k] as number) >>> t) & 1) - set;
        const turned = (1 - NEW_SHARE) * (direction[at] as number) + NEW_SHARE * pull;
        const used = turned < 0 && share[at] === 0 ? 0 : turned;
        direction[at] = used;
        norm += used * used;
      }
    }
    if (norm < 1e-9) return false;
    const far = (step * (this.#cost - value)) / norm;
    for (let at = members; at < (nodes - 1) * members; at++)
      share[at] = Math.max(0, (share[at] as number) + far * (direction[at] as number));
    return true;
  }

  /** Look into a beginning if it may still lead to something better; else remember how little what is left out could cost. */
  #goOn(bound: number, t: number, count: number, rhythm: number, cost: number): void {
    if (bound >= this.#cost - LEAST_GAIN || this.#looks >= LOOKS_MOST)
      this.#leastLeft = Math.min(this.#leastLeft, bound);
    else if (t <= this.#slots) this.#look(t, count, rhythm, cost);
    else {
      this.#cost = bound;
      this.best = rhythm;
    }
  }

  /** Slots before `t` are decided: `rhythm`, in `#stack` with 0 before it, at `cost`. Try `t` both ways. */
  #look(t: number, count: number, rhythm: number, cost: number): void {
    const { members, pay } = this;
    const nodes = this.#slots + 2;
    const arc = this.#arc;
    const toGo = this.#toGo;
    const reach = this.#reach;
    const stack = this.#stack;
    const here = t * members;
    const row = t * nodes * members;
    const rowAfter = row + nodes * members;
    this.#looks++;
    let bound = cost + (this.#tail[t + 1] as number);
    let boundOpen = bound + (this.open[t] as number);
    for (let k = 0; k < members; k++) {
      let least = Number.POSITIVE_INFINITY;
      let stop = Number.POSITIVE_INFINITY;
      for (let i = 0; i < count; i++) {
        const s = (stack[i] as number) * members + k;
        const until = reach[s] as number;
        const passes = until + (toGo[rowAfter + s] as number);
        if (passes < least) least = passes;
        const stops = until + (arc[row + s] as number);
        if (stops < stop) stop = stops;
      }
      stop += pay[here + k] as number;
      reach[here + k] = stop;
      bound += least;
      const through = stop + (toGo[rowAfter + here + k] as number);
      boundOpen += Math.min(through, least);
    }
    const bit = 1 << t;
    if (this.#must & bit) bound = Number.POSITIVE_INFINITY;
    if (this.#closed & bit) boundOpen = Number.POSITIVE_INFINITY;
    if (bound <= boundOpen) this.#goOn(bound, t + 1, count, rhythm, cost);
    if (boundOpen < Number.POSITIVE_INFINITY) {
      stack[count] = t;
      this.#goOn(boundOpen, t + 1, count + 1, rhythm | bit, cost + (this.open[t] as number));
    }
    if (bound > boundOpen && bound < Number.POSITIVE_INFINITY) this.#goOn(bound, t + 1, count, rhythm, cost);
  }
}
