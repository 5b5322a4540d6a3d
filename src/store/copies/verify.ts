import { dirname, join } from 'node:path';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { BlobFolder } from '../blob-folder.ts';
import { storeProblem } from '../problems.ts';
import { checkFile } from '../sqlite/check.ts';
import { openFile } from '../sqlite/open.ts';
import type { CheckReport } from '../store.ts';
import { fileHash, type Manifest, readManifest } from './manifest.ts';

/**
 * Reads a copy whole, and compares it with its manifest where there is one.
 *
 * Problems: those of opening a file, `store.damaged` (one a finding), `store.copy-changed` (whole, but not what was copied).
 */
export async function verifyCopy(copy: string): Promise<Result<CheckReport>> {
  const read = await readWhole(copy, new BlobFolder(join(dirname(copy), 'blobs')));
  if (!read.ok) return read;
  const { report } = read.value;
  const manifest = await readManifest(copy);
  if (!manifest) return ok(report);
  const isSame = manifest.sha256 === (await fileHash(copy)) && holdsSame(manifest.rigs, report.rigs);
  return isSame ? ok(report) : fail(changed(copy));
}

export interface WholeCopy {
  readonly report: CheckReport;
  /** Of each rig. */
  readonly epochs: ReadonlyMap<string, string>;
}

/** Opens a store's file and checks all of it. Problems: those of opening, `store.damaged` (one a finding). */
export async function readWhole(file: string, blobs: Pick<BlobFolder, 'read'>): Promise<Result<WholeCopy>> {
  const opened = openFile(file, { create: false, readonly: true });
  if (!opened.ok) return opened;
  try {
    const report = await checkFile(opened.value, blobs);
    if (!report.ok) return fail(...(report.problems as [Problem, ...Problem[]]));
    const rows = opened.value.prepare('SELECT rig, epoch FROM rigs').all() as { rig: string; epoch: string }[];
    return ok({ report, epochs: new Map(rows.map(({ rig, epoch }) => [rig, epoch])) });
  } finally {
    opened.value.close();
  }
}

export const changed = (copy: string): Problem => ({
  ...storeProblem('store.damaged', copy),
  code: 'store.copy-changed',
  what: 'This copy is not what it was when it was made',
});

/** Whether two accounts of rigs tell of the same entries. */
export function holdsSame(noted: Manifest['rigs'], found: CheckReport['rigs']): boolean {
  const told = (rigs: CheckReport['rigs']) =>
    JSON.stringify(rigs.map(({ rig, entries, digest }) => [rig, entries, digest]));
  return told(noted) === told(found);
}
