import type { Model } from './model.ts';

/** The step along which shares are improved: at first, and what it is cut to after so many rounds without gain. */
const STEP = 0.7;
const STEP_CUT = 0.6;
const PATIENCE = 3;
const NEW_SHARE = 0.5;

/** A bound this close to a cost already had is as good as equal: rounding, not progress. */
export const LEAST_GAIN = 1e-7;

/**
 * One group by itself, relaxed: every job of the group (a *member*) pays a share of the set-up and takes its own cheapest path; a slot
 * is set up where the shares outweigh its cost. Never above what the group really costs, whatever the shares.
 */
export class Shares {
  readonly group: number;
  /** The uses by which jobs belong to the group. */
  readonly uses: Int32Array;
  readonly members: number;
  /** What setting up costs, by slot. */
  readonly open: Float64Array;
  /** By `t * members + k`: what a member pays for slot `t` beside the set-up; what it pays of the set-up while that is undecided. */
  readonly pay: Float64Array;
  readonly share: Float64Array;
  /** Paths of the members, as bits of slots. */
  readonly visits: Int32Array;
  /** Measure of work, in shortest paths. */
  work = 0;

  /** Slots left out, and slots set up whatever happens, as bits. */
  protected closed = 0;
  protected must = 0;
  protected readonly slots: number;
  /** `arc[(t * nodes + s) * members + k]`. */
  protected readonly arc: Float64Array;
  /** `toGo[(t * nodes + s) * members + k]`: the rest of member `k`'s path when last done at `s`, slots from `t` on still free. */
  protected readonly toGo: Float64Array;
  /** What slots from `t` on add, each set up where the shares outweigh its cost. */
  protected readonly tail: Float64Array;
  readonly #kept: Float64Array;
  readonly #direction: Float64Array;
  readonly #along: Float64Array;

  constructor(model: Model, group: number, uses: readonly number[]) {
    const { nodes, arc, useJob } = model;
    const members = uses.length;
    this.group = group;
    this.uses = Int32Array.from(uses);
    this.members = members;
    this.slots = model.slots;
    this.open = new Float64Array(nodes);
    this.pay = new Float64Array(nodes * members);
    this.share = new Float64Array(nodes * members);
    this.visits = new Int32Array(members);
    this.arc = new Float64Array(nodes * nodes * members);
    this.toGo = new Float64Array(nodes * nodes * members);
    this.tail = new Float64Array(nodes);
    this.#kept = new Float64Array(nodes * members);
    this.#direction = new Float64Array(nodes * members);
    this.#along = new Float64Array(nodes);
    uses.forEach((u, k) => {
      const j = useJob[u] as number;
      for (let t = 0; t < nodes; t++)
        for (let s = 0; s < nodes; s++)
          this.arc[(t * nodes + s) * members + k] = arc[(j * nodes + t) * nodes + s] as number;
    });
  }

  /** Move the shares for `rounds` rounds towards a higher relaxation, at most `aim`; its value at the best ones, tables ready. */
  protected improve(rounds: number, aim: number): number {
    const { share } = this;
    const kept = this.#kept;
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
      if (round >= rounds || value >= aim - LEAST_GAIN || !this.#move(step * (aim - value))) {
        if (value === best) return best;
        share.set(kept);
        return this.#relax();
      }
    }
  }

  /** The relaxation at the present shares: fills the tables of what is to come. */
  #relax(): number {
    const { members, open, pay, share } = this;
    const nodes = this.slots + 2;
    const end = nodes - 1;
    const arc = this.arc;
    const toGo = this.toGo;
    const tail = this.tail;
    this.work += members;
    toGo.set(arc.subarray(end * nodes * members, (end * nodes + end) * members), end * nodes * members);
    tail[end] = 0;
    for (let t = end - 1; t >= 1; t--) {
      const row = t * nodes * members;
      const rowAfter = row + nodes * members;
      const bit = 1 << t;
      if (this.closed & bit) {
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
      tail[t] = (tail[t + 1] as number) + (reduced < 0 || this.must & bit ? reduced : 0);
    }
    let value = tail[1] as number;
    for (let k = 0, at = nodes * members; k < members; k++, at++) value += toGo[at] as number;
    return value;
  }

  /** One step of the shares, of this length, towards a relaxation where members and set-ups agree; false when they do. */
  #move(length: number): boolean {
    const { members, open, share, visits } = this;
    const nodes = this.slots + 2;
    const toGo = this.toGo;
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
      if (this.closed & bit) continue;
      let reduced = open[t] as number;
      const first = t * members;
      for (let at = first; at < first + members; at++) reduced -= share[at] as number;
      const set = reduced < 0 || (this.must & bit) !== 0 ? 1 : 0;
      for (let k = 0, at = first; k < members; k++, at++) {
        const pull = (((visits[k] as number) >>> t) & 1) - set;
        const turned = (1 - NEW_SHARE) * (direction[at] as number) + NEW_SHARE * pull;
        const used = turned < 0 && share[at] === 0 ? 0 : turned;
        direction[at] = used;
        norm += used * used;
      }
    }
    if (norm < 1e-9) return false;
    const far = length / norm;
    for (let at = members; at < (nodes - 1) * members; at++)
      share[at] = Math.max(0, (share[at] as number) + far * (direction[at] as number));
    return true;
  }

  /** How much at least the group costs beyond `value` when slot `t` is left out, and when it is set up. */
  protected measure(closing: Float64Array, opening: Float64Array, at: number, value: number): void {
    const { members, open, pay, share } = this;
    const nodes = this.slots + 2;
    const arc = this.arc;
    const toGo = this.toGo;
    const along = this.#along;
    along[0] = 0;
    let relaxed = this.tail[1] as number;
    for (let k = 0; k < members; k++) relaxed += toGo[nodes * members + k] as number;
    const short = value - relaxed;
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
        const barred = ((this.closed >>> t) & 1) === 1;
        along[t] = barred
          ? Number.POSITIVE_INFINITY
          : reach + (pay[t * members + k] as number) + (share[t * members + k] as number);
        closing[at + t] = (closing[at + t] as number) + around - least;
      }
    }
    for (let t = 1; t < nodes - 1; t++) closing[at + t] = Math.max(0, closing[at + t] as number);
    this.work += members;
  }
}
