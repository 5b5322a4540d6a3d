import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { BlobFolder } from '../blob-folder.ts';
import { storeProblem } from '../problems.ts';
import { checkFile } from '../sqlite/check.ts';
import { openFile } from '../sqlite/open.ts';
import type { CheckReport } from '../store.ts';

/** What stands beside a copy, `….sqlite.json`: what it held when it was made. */
const manifestSchema = z.object({
  madeAt: z.string(),
  from: z.string(),
  sha256: z.string(),
  rigs: z.array(z.object({ rig: z.string(), entries: z.number().int(), digest: z.string() })),
  blobs: z.object({ count: z.number().int(), bytes: z.number().int() }),
});
export type Manifest = z.infer<typeof manifestSchema>;

export const manifestOf = (copy: string): string => `${copy}.json`;

/**
 * Reads a copy whole, and compares it with its manifest where there is one.
 *
 * Problems: those of opening a file, `store.damaged` (one a finding), `store.copy-changed` (whole, but not what was copied).
 */
export async function verifyCopy(copy: string): Promise<Result<CheckReport>> {
  const opened = openFile(copy, { create: false, readonly: true });
  if (!opened.ok) return opened;
  let report: CheckReport;
  try {
    report = await checkFile(opened.value, new BlobFolder(join(dirname(copy), 'blobs')));
  } finally {
    opened.value.close();
  }
  if (!report.ok) return fail(...(report.problems as [Problem, ...Problem[]]));
  const manifest = await readManifest(copy);
  if (!manifest) return ok(report);
  const same =
    manifest.sha256 === (await fileHash(copy)) && JSON.stringify(manifest.rigs) === JSON.stringify(report.rigs);
  return same
    ? ok(report)
    : fail({
        ...storeProblem('store.damaged', copy),
        code: 'store.copy-changed',
        what: 'This copy is not what it was when it was made',
      });
}

/** The manifest, or undefined where there is none or it cannot be read: the copy then speaks for itself. */
export async function readManifest(copy: string): Promise<Manifest | undefined> {
  const text = await readFile(manifestOf(copy), 'utf8').catch(() => undefined);
  if (text === undefined) return undefined;
  try {
    return manifestSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

export async function fileHash(file: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(file)) hash.update(chunk as Buffer);
  return hash.digest('hex');
}
