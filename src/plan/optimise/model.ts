import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { dayCostAt, type PlanInstance } from './instance.ts';

/**
 * An instance laid out for speed: flat typed arrays, unreachable arcs taken out, slots as bits.
 * Node 0 is now, 1 … slots are the slots, slots + 1 the horizon. A *use* is a pair (job, set-up the job needs).
 */
export interface Model {
  readonly instance: PlanInstance;
  readonly slots: number;
  /** slots + 2. */
  readonly nodes: number;
  readonly jobs: number;
  /** Set-ups, and one more without cost when some job needs none. */
  readonly groups: number;
  /** Arc costs, `arc[(job * nodes + to) * nodes + from]`; Infinity where there is none. */
  readonly arc: Float64Array;
  /** The first node with an arc into `to`: `arcFirst[job * nodes + to]`; `to` itself when there is none. */
  readonly arcFirst: Int32Array;
  /** Bits of the slots on which the job can be done at all. */
  readonly jobSlots: Int32Array;
  readonly jobMinutes: Float64Array;
  /** Uses of job `j`: `useStart[j]` … `useStart[j + 1] - 1`. */
  readonly useStart: Int32Array;
  readonly useGroup: Int32Array;
  readonly useJob: Int32Array;
  /** Jobs of group `g`: `groupJobs[groupStart[g]]` …; the matching use numbers in `groupUses`. */
  readonly groupStart: Int32Array;
  readonly groupJobs: Int32Array;
  readonly groupUses: Int32Array;
  readonly groupCost: Float64Array;
  readonly groupMinutes: Float64Array;
  /** By node; 0 at both ends. */
  readonly dayCost: Float64Array;
  /** By node; Infinity without a limit. */
  readonly capacity: Float64Array;
  readonly hasCapacity: boolean;
}

interface JobArcs {
  readonly arc: Float64Array;
  readonly arcFirst: Int32Array;
  readonly jobSlots: Int32Array;
}

/** A single job on an empty slot must fit, or it can never be done there. */
function slotFits(instance: PlanInstance, j: number, slot: number): boolean {
  const available = instance.capacityMinutes?.[slot - 1] ?? Number.POSITIVE_INFINITY;
  const job = instance.jobs[j] as PlanInstance['jobs'][number];
  const needed = job.setups.reduce((sum, g) => sum + (instance.setups[g]?.minutes ?? 0), job.minutes);
  return needed <= available + 1e-9;
}

/** Fill one job's arcs, leaving out every arc that no path from now to the horizon can use. False when there is no path. */
function fillJob(instance: PlanInstance, j: number, into: JobArcs): boolean {
  const { slots } = instance;
  const nodes = slots + 2;
  const closed = new Set(instance.slotsClosed ?? []);
  const table = (instance.jobs[j] as PlanInstance['jobs'][number]).intervalCost;
  const usable = (t: number): boolean => t === 0 || t === slots + 1 || (!closed.has(t) && slotFits(instance, j, t));
  const cost = (s: number, t: number): number | null => (usable(s) && usable(t) ? (table[s]?.[t] ?? null) : null);
  const reached = new Uint8Array(nodes);
  const leads = new Uint8Array(nodes);
  reached[0] = 1;
  leads[slots + 1] = 1;
  for (let t = 1; t <= slots + 1; t++)
    for (let s = 0; s < t; s++) if (reached[s] && cost(s, t) !== null) reached[t] = 1;
  for (let s = slots; s >= 0; s--)
    for (let t = s + 1; t <= slots + 1; t++) if (leads[t] && cost(s, t) !== null) leads[s] = 1;
  if (!reached[slots + 1]) return false;
  for (let t = 1; t <= slots + 1; t++) {
    into.arcFirst[j * nodes + t] = t;
    if (!reached[t] || !leads[t]) continue;
    if (t <= slots) into.jobSlots[j] = (into.jobSlots[j] as number) | (1 << t);
    for (let s = t - 1; s >= 0; s--) {
      const value = reached[s] && leads[s] ? cost(s, t) : null;
      if (value === null) continue;
      into.arc[(j * nodes + t) * nodes + s] = value;
      into.arcFirst[j * nodes + t] = s;
    }
  }
  return true;
}

function noPath(j: number): Problem {
  return {
    code: 'plan.job-impossible',
    what: `Job ${j} cannot be placed: no allowed chain of days leads from now to the horizon`,
    where: `jobs[${j}]`,
    expected: 'at least one allowed path of intervals on days that are open and long enough',
    next: 'Open another day, allow more hours, or allow a longer interval for this job.',
  };
}

/** Uses laid out by job and by group. Jobs without a set-up use one extra group that costs nothing. */
function layUses(instance: PlanInstance) {
  const extra = instance.jobs.some((job) => job.setups.length === 0);
  const groups = instance.setups.length + (extra ? 1 : 0);
  const uses = instance.jobs.flatMap((job, j) =>
    (job.setups.length === 0 ? [instance.setups.length] : [...job.setups]).map((g) => ({ j, g })),
  );
  const useStart = new Int32Array(instance.jobs.length + 1);
  for (const { j } of uses) useStart[j + 1] = (useStart[j + 1] as number) + 1;
  for (let j = 0; j < instance.jobs.length; j++)
    useStart[j + 1] = (useStart[j + 1] as number) + (useStart[j] as number);
  const groupStart = new Int32Array(groups + 1);
  const groupUses: number[] = [];
  for (let g = 0; g < groups; g++) {
    uses.forEach((use, u) => {
      if (use.g === g) groupUses.push(u);
    });
    groupStart[g + 1] = groupUses.length;
  }
  return {
    groups,
    useStart,
    useGroup: Int32Array.from(uses, ({ g }) => g),
    useJob: Int32Array.from(uses, ({ j }) => j),
    groupStart,
    groupUses: Int32Array.from(groupUses),
    groupJobs: Int32Array.from(groupUses, (u) => (uses[u] as { j: number }).j),
    groupCost: Float64Array.from({ length: groups }, (_, g) => instance.setups[g]?.cost ?? 0),
    groupMinutes: Float64Array.from({ length: groups }, (_, g) => instance.setups[g]?.minutes ?? 0),
  };
}

/** Lay out a checked instance. Code `plan.job-impossible`, one a job, when a job has no path at all. */
export function modelOf(instance: PlanInstance): Result<Model> {
  const { slots } = instance;
  const nodes = slots + 2;
  const jobs = instance.jobs.length;
  const arcs: JobArcs = {
    arc: new Float64Array(jobs * nodes * nodes).fill(Number.POSITIVE_INFINITY),
    arcFirst: new Int32Array(jobs * nodes),
    jobSlots: new Int32Array(jobs),
  };
  const problems: Problem[] = [];
  for (let j = 0; j < jobs; j++) if (!fillJob(instance, j, arcs)) problems.push(noPath(j));
  const [first, ...more] = problems;
  if (first !== undefined) return fail(first, ...more);
  const dayCost = new Float64Array(nodes);
  const capacity = new Float64Array(nodes).fill(Number.POSITIVE_INFINITY);
  for (let t = 1; t <= slots; t++) {
    dayCost[t] = dayCostAt(instance, t);
    capacity[t] = instance.capacityMinutes?.[t - 1] ?? Number.POSITIVE_INFINITY;
  }
  return ok({
    instance,
    slots,
    nodes,
    jobs,
    ...arcs,
    ...layUses(instance),
    jobMinutes: Float64Array.from(instance.jobs, (job) => job.minutes),
    dayCost,
    capacity,
    hasCapacity: instance.capacityMinutes !== null,
  });
}
