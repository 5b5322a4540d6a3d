import { fail, ok, type Problem, type Result } from '../../problem/index.ts';

/** A shared preparation: money each time it is set up on a slot, and the minutes it takes from that slot. */
export interface PlanSetup {
  readonly cost: number;
  readonly minutes: number;
}

/**
 * One job to be placed. Its plan is a path 0 → … → slots + 1; `intervalCost[s][t]` (0 ≤ s < t ≤ slots + 1) is the cost of next doing
 * it at `t` when it was last done at `s`; 0 is now, slots + 1 the horizon; `null` means not allowed.
 */
export interface PlanJob {
  /** Indices into `setups`; none at all is allowed: the job then only needs the day to be open. */
  readonly setups: readonly number[];
  readonly minutes: number;
  readonly intervalCost: readonly (readonly (number | null)[])[];
}

/** What `optimise` works on. Costs share one unit (money); minutes are minutes. */
export interface PlanInstance {
  /** Number of slots, numbered 1 … slots. At most `SLOTS_MAX`. */
  readonly slots: number;
  /** Paid once for each slot on which anything is done: one number, or one a slot (index 0 is slot 1). */
  readonly dayCost: number | readonly number[] | Float64Array;
  readonly setups: readonly PlanSetup[];
  /** Minutes available on each slot (index 0 is slot 1), or `null` when hours are no limit. */
  readonly capacityMinutes: readonly number[] | null;
  readonly jobs: readonly PlanJob[];
  /** Slots on which nothing may be done. */
  readonly slotsClosed?: readonly number[];
}

/** Slots are kept as bits of one 32-bit integer, 0 and the horizon included. */
export const SLOTS_MAX = 29;

/** The cost of opening slot `slot` (1 …) at all. */
export function dayCostAt(instance: PlanInstance, slot: number): number {
  return typeof instance.dayCost === 'number' ? instance.dayCost : (instance.dayCost[slot - 1] as number);
}

const isAmount = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value) && value >= 0;

function problem(where: string, what: string, expected: string): Problem {
  return { code: 'plan.instance-invalid', what, where, expected, next: 'Mend the instance and try again.' };
}

function listProblems(instance: PlanInstance): Problem[] {
  const found: Problem[] = [];
  const { slots, dayCost, setups, capacityMinutes, jobs } = instance;
  if (!Number.isInteger(slots) || slots < 0 || slots > SLOTS_MAX)
    return [problem('slots', `${slots} slots cannot be planned`, `a whole number from 0 to ${SLOTS_MAX}`)];
  const days = typeof dayCost === 'number' ? [dayCost] : Array.from(dayCost);
  if (!days.every(isAmount) || (typeof dayCost !== 'number' && days.length !== slots))
    found.push(problem('dayCost', 'The cost of a day is unusable', `one amount, or one for each of ${slots} slots`));
  setups.forEach((setup, g) => {
    if (!isAmount(setup.cost) || !isAmount(setup.minutes))
      found.push(problem(`setups[${g}]`, `Set-up ${g} has an unusable cost or minutes`, 'amounts of 0 or more'));
  });
  if (capacityMinutes !== null && (capacityMinutes.length !== slots || !capacityMinutes.every(isAmount)))
    found.push(
      problem(
        'capacityMinutes',
        'The minutes available are unusable',
        `null, or one amount for each of ${slots} slots`,
      ),
    );
  for (const slot of instance.slotsClosed ?? [])
    if (!Number.isInteger(slot) || slot < 1 || slot > slots)
      found.push(problem('slotsClosed', `Slot ${slot} does not exist`, `slots from 1 to ${slots}`));
  for (const [j, job] of jobs.entries()) found.push(...jobProblems(job, j, instance));
  return found;
}

function jobProblems(job: PlanJob, j: number, { slots, setups }: PlanInstance): Problem[] {
  const found: Problem[] = [];
  if (!isAmount(job.minutes))
    found.push(problem(`jobs[${j}].minutes`, `Job ${j} has unusable minutes`, 'an amount of 0 or more'));
  if (
    job.setups.some((g) => !Number.isInteger(g) || g < 0 || g >= setups.length) ||
    new Set(job.setups).size !== job.setups.length
  )
    found.push(
      problem(
        `jobs[${j}].setups`,
        `Job ${j} names an unknown or repeated set-up`,
        `different numbers from 0 to ${setups.length - 1}`,
      ),
    );
  const usable = (cost: number | null | undefined): boolean =>
    cost === null || cost === undefined || (typeof cost === 'number' && Number.isFinite(cost));
  if (job.intervalCost.length < slots + 1 || !job.intervalCost.every((row) => row.every(usable)))
    found.push(
      problem(
        `jobs[${j}].intervalCost`,
        `Job ${j} has an unusable table of interval costs`,
        `${slots + 1} rows of numbers or null`,
      ),
    );
  return found;
}

/** The instance itself when it is well formed, or every problem with it (code `plan.instance-invalid`). */
export function checkInstance(instance: PlanInstance): Result<PlanInstance> {
  const [first, ...more] = listProblems(instance);
  return first === undefined ? ok(instance) : fail(first, ...more);
}

interface InstanceJson {
  readonly slots?: unknown;
  readonly day_cost?: unknown;
  readonly setups?: unknown;
  readonly capacity_minutes?: unknown;
  readonly jobs?: unknown;
}

/**
 * Read an instance from parsed JSON: `{slots, day_cost, setups: [{cost, minutes}], capacity_minutes: [slots] | null,
 * jobs: [{setups, minutes, interval_cost}]}`. Code `plan.instance-invalid` when it is not one.
 */
export function instanceFromJson(json: unknown): Result<PlanInstance> {
  const raw = (typeof json === 'object' && json !== null ? json : {}) as InstanceJson;
  if (typeof raw.slots !== 'number' || !Array.isArray(raw.setups) || !Array.isArray(raw.jobs))
    return fail(
      problem(
        'the file',
        'This is not a planning instance',
        'an object with slots, day_cost, setups, capacity_minutes and jobs',
      ),
    );
  const jobs: PlanJob[] = [];
  for (const [j, job] of (raw.jobs as { setups?: unknown; minutes?: unknown; interval_cost?: unknown }[]).entries()) {
    const table = job?.interval_cost;
    if (!Array.isArray(job?.setups) || !Array.isArray(table) || !table.every(Array.isArray))
      return fail(problem(`jobs[${j}]`, `Job ${j} is not a job`, 'an object with setups, minutes and interval_cost'));
    jobs.push({
      setups: job.setups as number[],
      minutes: job.minutes as number,
      intervalCost: table as (number | null)[][],
    });
  }
  const capacity = raw.capacity_minutes ?? null;
  if (capacity !== null && !Array.isArray(capacity))
    return fail(
      problem('capacity_minutes', 'The minutes available are not a list', 'null, or one amount for each slot'),
    );
  const setups = (raw.setups as { cost?: unknown; minutes?: unknown }[]).map((setup) => ({
    cost: setup?.cost as number,
    minutes: setup?.minutes as number,
  }));
  const dayCost = raw.day_cost as number | number[];
  if (typeof dayCost !== 'number' && !Array.isArray(dayCost))
    return fail(problem('day_cost', 'The cost of a day is missing', 'one amount, or one for each slot'));
  return checkInstance({ slots: raw.slots, dayCost, setups, capacityMinutes: capacity as number[] | null, jobs });
}
