/**
 * How long an outlook takes: 150 upkeeps × 1,024 paths × 12 trips, looked at whole, again after one more entry, and, for the ratio,
 * naïvely (the whole logbook folded and looked at from nothing, columns of chance and all). Usage: `npx tsx --expose-gc bench/outlook.ts [UPKEEPS]`.
 * Each figure is the middle of many runs after a warm start of the process; ratios are within this one run.
 */
import { addEntry, type Entry, foldEntries } from '../src/logbook/index.ts';
import { lookAhead } from '../src/outlook/index.ts';
import { shippedCatalog } from '../test/support/catalog.ts';
import { longLogbook, NOW } from './outlook-rig.ts';

const wanted = Number(process.argv[2] ?? 150);
const catalog = shippedCatalog();
const entries = longLogbook(catalog, wanted);
const state = foldEntries(entries);
const options = { now: NOW };
/** A catalog of its own keeps nothing from an earlier look. */
const fresh = () => ({ ...catalog });

function middle(times: number, run: (i: number) => void): number {
  const taken: number[] = [];
  for (let i = 0; i < times; i++) {
    const started = performance.now();
    run(i);
    taken.push(performance.now() - started);
  }
  return taken.sort((a, b) => a - b)[times >> 1]!;
}

let n = 0;
const entry = (kind: string, body: Record<string, unknown>): Entry =>
  ({ ...entries[0]!, id: `01J9${String(n++).padStart(22, '0')}`, kind, on: NOW, body }) as Entry;
const afterOne = (make: () => Entry) => {
  lookAhead(state, catalog, options);
  const written = Array.from({ length: 40 }, make);
  return middle(40, (i) => lookAhead(addEntry(state, written[i]!), catalog, options));
};

const model = lookAhead(state, fresh(), options);
const scattered = model.looks.filter((look) => look.runsOut.some((day) => day !== look.runsOut[0])).length;
console.log(
  `${entries.length} entries, ${model.looks.length} upkeeps (${scattered} with a moment of their own on each path), ` +
    `${model.scene.draws.count} paths, ${model.outlook.trips.length} trips`,
);

middle(30, () => lookAhead(state, fresh(), options));
const whole = middle(40, () => lookAhead(state, fresh(), options));
const naive = middle(12, (i) => lookAhead(foldEntries(entries), fresh(), { ...options, seed: 1_000 + i }));
const tire = afterOne(() =>
  entry('reading', { part: 'tire-1', what: 'pressure-cold', value: { value: 71, unit: 'psi' } }),
);
const odometer = afterOne(() =>
  entry('reading', { vehicle: 'trailer', what: 'odometer', value: { value: 62_000 + n, unit: 'mi' } }),
);
const work = afterOne(() =>
  entry('work', {
    done: [{ upkeep: 'check-tire-pressure', part: 'tire-1', outcome: 'good' }],
    odometer: { value: 62_000 + n, unit: 'mi' },
  }),
);
const carried = afterOne(() => entry('carry', { item: 'jack-bottle', aboard: true }));

/** What is held once the collector has been through, in bytes: columns of numbers are let go of only after it. */
async function bytesHeld(): Promise<number> {
  for (let i = 0; i < 3; i++) {
    globalThis.gc?.();
    await new Promise((done) => setTimeout(done, 50));
  }
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}
const before = await bytesHeld();
const held = Array.from({ length: 8 }, () => lookAhead(state, fresh(), options));
const megabytes = ((await bytesHeld()) - before) / held.length / 2 ** 20;

const row = (what: string, ms: number, aim?: number): void =>
  console.log(
    `${what.padEnd(54)} ${ms.toFixed(2).padStart(8)} ms   ${(naive / ms).toFixed(1).padStart(6)} times as fast as naïve${aim === undefined ? '' : `   aim ${aim} ms`}`,
  );
row('naïve: fold and look from nothing', naive);
row('a whole look', whole, 15);
row('one pressure reading more', tire, 5);
row('one odometer reading more', odometer, 5);
row('one work entry with its odometer more', work, 5);
row('something carried aboard', carried, 5);
console.log(`memory of one outlook held: ${globalThis.gc ? `${megabytes.toFixed(1)} MB` : 'only with --expose-gc'}`);
