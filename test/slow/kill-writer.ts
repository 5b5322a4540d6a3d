/**
 * A writer to be killed: appends small batches without end and says each id once the store has acknowledged it.
 * Arguments: target as JSON, number of this writer, number of its first entry.
 */
import { writeSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { ProblemError } from '../../src/problem/index.ts';
import { openStore, type Target } from '../../src/store/index.ts';
import { entryNumber } from '../support/keeping.ts';

const [target, writer, first] = process.argv.slice(2) as [string, string, string];
const base = Number(writer) * 10_000_000;

async function run(): Promise<void> {
  const opened = await openStore(JSON.parse(target) as Target);
  if (!opened.ok) throw new ProblemError(opened.problems);
  for (let n = Number(first); ; ) {
    const size = 1 + (n % 5);
    const batch = Array.from({ length: size }, (_, i) => entryNumber(base + n + i));
    const appended = await opened.value.append(batch, { via: `writer ${writer}` });
    if (!appended.ok) throw new ProblemError(appended.problems);
    // Synchronous: what was said before the kill arrives.
    writeSync(1, `${batch.map((_, i) => n + i).join('\n')}\n`);
    n += size;
    // Four writers without a pause leave no time for a fifth process to start.
    await wait(1);
  }
}

/** The database server is killed, too: then it is gone for a moment. */
async function whileReachable(): Promise<void> {
  for (;;) {
    try {
      await run();
    } catch (error) {
      const code = error instanceof ProblemError ? error.problems[0]!.code : '';
      if (code !== 'store.unreachable') {
        writeSync(2, `${(error as Error).stack}\n`);
        process.exit(1);
      }
      await wait(50);
    }
  }
}

void whileReachable();
