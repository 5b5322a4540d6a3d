import { createHash, randomBytes } from 'node:crypto';
import { readdirSync, rmSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Names of what is there only for a while say which process of which machine made them, so that what a killed process left
 * behind is recognised and removed, and what a running one is working on is not.
 */
const MACHINE = createHash('sha256').update(hostname()).digest('hex').slice(0, 8);
/** Tells this process from an earlier one of the same number: in a container every first process is number 1. */
const RUN = randomBytes(4).toString('hex');
const OWNER = `${MACHINE}-${process.pid}-${RUN}`;
/** `restoring-…`, `rigworthy-archive-…`, or a file's name and `….part`, also with what SQLite puts beside it. */
const NAME = /(?:^|[-.])([0-9a-f]{8})-(\d+)-([0-9a-f]{8})-[0-9A-Za-z]{6,8}(?:\.part(?:-wal|-shm|-journal)?)?$/;

const mark = (): string => `${OWNER}-${randomBytes(4).toString('hex')}`;

/** A name beside `path` under which it is made. */
export function partOf(path: string): string {
  return `${path}.${mark()}.part`;
}

/** A name in `folder` for a folder in which something is made. */
export function placeIn(folder: string, purpose: string): string {
  return join(folder, `${purpose}-${mark()}`);
}

/** Makes a folder among the system's temporary ones that only this user can read. */
export function temporaryFolder(purpose: string): Promise<string> {
  return mkdtemp(join(tmpdir(), `rigworthy-${purpose}-${OWNER}-`));
}

/** Removes from `folder` what processes of this machine left behind that run no more. Never fails: what stays only takes space. */
export function clearAbandoned(folder: string): void {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch {
    return;
  }
  for (const name of names) {
    const match = NAME.exec(name);
    if (!match || match[1] !== MACHINE || isRunning(Number(match[2]), match[3]!)) continue;
    try {
      rmSync(join(folder, name), { recursive: true, force: true });
    } catch {
      // Another user's, or gone already.
    }
  }
}

/** What killed processes left among the system's temporary folders: archives and logbooks that were being read. */
export function clearAbandonedTemporary(): void {
  clearAbandoned(tmpdir());
}

function isRunning(pid: number, run: string): boolean {
  if (pid === process.pid) return run === RUN;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}
