/**
 * Random planning instances, the same for the same five arguments everywhere: the benchmark family on which the optimiser is
 * measured. A job's interval cost is its wear plus a risk that rises as a logistic curve once its life is used up.
 */

/** An instance as it stands in a file; `interval_cost[s][t]`: last done at `s`, next done at `t`; 0 now, slots + 1 the horizon. */
export interface InstanceFile {
  slots: number;
  day_cost: number;
  setups: { cost: number; minutes: number }[];
  capacity_minutes: number[] | null;
  jobs: { setups: number[]; minutes: number; interval_cost: (number | null)[][] }[];
}

/** The mulberry32 generator (public domain, T. Ettinger): numbers in [0, 1) from a 32-bit seed. */
function mulberry(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

interface JobTraits {
  /** Slots a fresh job lasts, and the share already used up now, in slots. */
  life: number;
  used: number;
  work: number;
  severity: number;
}

function intervalCosts(slots: number, { life, used, work, severity }: JobTraits): (number | null)[][] {
  const horizon = slots + 1;
  return Array.from({ length: horizon }, (_, last) =>
    Array.from({ length: slots + 2 }, (_, next) => {
      if (next <= last) return null;
      const worn = (next - last + (last === 0 ? used : 0)) / life;
      if (worn > 1.5 && next > last + 1) return null;
      const risk = (work * severity) / (1 + Math.exp(-(worn - 1) * 12));
      const wear = next === horizon ? work * Math.min(1, worn) : work;
      return Math.round((wear + risk) * 100) / 100;
    }),
  );
}

/** The instance with these sizes and this seed; `tight` limits the minutes of each slot so that they bind. */
export function planInstance(jobs: number, slots: number, setups: number, seed: number, tight = false): InstanceFile {
  const draw = mulberry(seed * 7919 + jobs * 101 + slots * 13 + setups);
  const file: InstanceFile = {
    slots,
    day_cost: 25,
    setups: Array.from({ length: setups }, () => ({
      cost: Math.round(10 + draw() * 60),
      minutes: Math.round(10 + draw() * 40),
    })),
    capacity_minutes: null,
    jobs: [],
  };
  let minutesNeeded = 0;
  for (let j = 0; j < jobs; j++) {
    const own = new Set([Math.floor(draw() * setups)]);
    if (draw() < 0.3) own.add(Math.floor(draw() * setups));
    const life = 2 + draw() * slots * 1.4;
    const used = draw() * life;
    const work = 5 + draw() * 95;
    const minutes = Math.round(5 + draw() * 70);
    const severity = 1 + draw() * 5;
    file.jobs.push({
      setups: [...own].sort((a, b) => a - b),
      minutes,
      interval_cost: intervalCosts(slots, { life, used, work, severity }),
    });
    minutesNeeded += minutes * (1 / life);
  }
  minutesNeeded += file.setups.reduce((sum, setup) => sum + setup.minutes, 0);
  if (tight)
    file.capacity_minutes = Array.from({ length: slots }, (_, k) =>
      Math.round(minutesNeeded * (k < 3 ? 2.2 : 1) * (1 + draw() * 0.6)),
    );
  return file;
}
