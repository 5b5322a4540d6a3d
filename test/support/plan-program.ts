import type { PlanInstance } from '../../src/plan/optimise/index.ts';
import { dayCostAt } from '../../src/plan/optimise/index.ts';

/**
 * A planning instance as a mixed-integer program in the CPLEX LP text format, for a general solver: paths as flows `x`, set-ups `z`,
 * days `w`. The same statement as in `src/plan/optimise/README.md`, written without any of the optimiser's own code.
 */
export function planProgram(instance: PlanInstance): string {
  const { slots, setups, jobs, capacityMinutes } = instance;
  const horizon = slots + 1;
  const costs: string[] = [];
  const rows: string[] = [];
  const whole: string[] = [];
  const minutes: string[][] = Array.from({ length: horizon + 1 }, () => []);
  const variable = (name: string, cost: number): string => {
    costs.push(`${cost} ${name}`);
    whole.push(name);
    return name;
  };
  for (let t = 1; t <= slots; t++) {
    const day = variable(`w${t}`, dayCostAt(instance, t));
    setups.forEach((setup, g) => {
      rows.push(`${variable(`z${g}_${t}`, setup.cost)} - ${day} <= 0`);
      minutes[t]?.push(`${setup.minutes} z${g}_${t}`);
    });
  }
  jobs.forEach((job, j) => {
    const into: string[][] = Array.from({ length: horizon + 1 }, () => []);
    const outOf: string[][] = Array.from({ length: horizon + 1 }, () => []);
    for (let s = 0; s <= slots; s++)
      for (let t = s + 1; t <= horizon; t++) {
        const cost = job.intervalCost[s]?.[t];
        if (cost === null || cost === undefined) continue;
        const arc = variable(`x${j}_${s}_${t}`, cost);
        into[t]?.push(arc);
        outOf[s]?.push(arc);
        if (t <= slots) minutes[t]?.push(`${job.minutes} ${arc}`);
      }
    for (let t = 0; t <= horizon; t++) {
      const balance = [...(outOf[t] ?? []).map((arc) => `+ ${arc}`), ...(into[t] ?? []).map((arc) => `- ${arc}`)];
      if (balance.length > 0) rows.push(`${balance.join(' ')} = ${t === 0 ? 1 : t === horizon ? -1 : 0}`);
      if (t < 1 || t > slots || (into[t] ?? []).length === 0) continue;
      const arrives = (into[t] as string[]).map((arc) => `+ ${arc}`).join(' ');
      const needs = job.setups.length === 0 ? [`w${t}`] : job.setups.map((g) => `z${g}_${t}`);
      for (const need of needs) rows.push(`${arrives} - ${need} <= 0`);
    }
  });
  if (capacityMinutes !== null)
    for (let t = 1; t <= slots; t++)
      rows.push(
        `${(minutes[t] as string[]).map((term) => `+ ${term}`).join(' ')} - ${capacityMinutes[t - 1]} w${t} <= 0`,
      );
  return `Minimize\n obj: ${costs.join('\n + ')}\nSubject To\n${rows.join('\n')}\nBinaries\n${whole.join('\n')}\nEnd\n`;
}
