/** Writes demo/marigold.jsonl: `npx tsx scripts/demo-rig.ts`. Deterministic; no clock. */
import { writeFileSync } from 'node:fs';
import { asJsonLines } from './demo/book.ts';
import { makeDemo } from './demo/make.ts';

const entries = makeDemo();
writeFileSync(new URL('../demo/marigold.jsonl', import.meta.url), asJsonLines(entries));
console.log(`demo/marigold.jsonl: ${entries.length} entries`);
