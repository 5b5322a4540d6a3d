/** Part of the work of `report.ts`, in a process of its own: `tsx shard.ts dates|habits FIRST_SEED COUNT` writes its seasons as JSON. */
import { season } from './calibrate.ts';
import { seasonsOf } from './value.ts';

const [what, first, count] = process.argv.slice(2);
const seeds = Array.from({ length: Number(count) }, (_, i) => Number(first) + i);
const worked: readonly unknown[] = what === 'dates' ? seeds.map(season) : seeds.map(seasonsOf);
process.stdout.write(JSON.stringify(worked));
