/**
 * One thing that is killed midway. As a process: says `begin`, does it, says `end`. Its argument is a `Work` as JSON.
 */
import { writeSync } from 'node:fs';
import { unwrap } from '../../src/problem/index.ts';
import { importArchive, makeCopy, openStore, restoreCopy, type Target } from '../../src/store/index.ts';

export type Work =
  | {
      readonly kind: 'backup';
      readonly target: Target;
      readonly copies: string;
      readonly now: number;
      readonly to?: string;
    }
  | { readonly kind: 'restore'; readonly target: Target; readonly copy: string; readonly now: number }
  | { readonly kind: 'import'; readonly target: Target; readonly archive: string }
  | { readonly kind: 'upgrade'; readonly target: Target };

export async function doWork(work: Work, begun: () => void = () => undefined): Promise<void> {
  if (work.kind === 'restore') {
    begun();
    unwrap(await restoreCopy(work.copy, work.target, work.now));
    return;
  }
  if (work.kind === 'upgrade') {
    begun();
    await unwrap(await openStore(work.target)).close();
    return;
  }
  const store = unwrap(await openStore(work.target));
  begun();
  if (work.kind === 'backup') await makeCopy(store, work.copies, work.now, work.to);
  else unwrap(await importArchive(store, work.archive, { via: 'a test' }));
  await store.close();
}

const said = process.argv[2];
if (said?.startsWith('{')) {
  doWork(JSON.parse(said) as Work, () => writeSync(1, 'begin\n')).then(
    () => writeSync(1, 'end\n'),
    (error: Error) => {
      writeSync(2, `${error.stack}\n`);
      process.exitCode = 1;
    },
  );
}
