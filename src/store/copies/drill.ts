import { readFile, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { problemText, type Result } from '../../problem/index.ts';
import { makeFolderDurably } from '../blob-folder.ts';
import type { CheckReport } from '../store.ts';
import { clearAbandoned, placeIn } from '../temporary.ts';
import { decryptCopy, verifyEncrypted } from './encrypt.ts';
import { type Copy, listCopies } from './make.ts';
import { readManifest, writeWhole } from './manifest.ts';
import { isToCome } from './order.ts';
import { restoreCopy } from './restore.ts';
import { holdsSame } from './verify.ts';

const drillSchema = z.object({
  at: z.string(),
  /** Name of the copy; null where there was none. */
  copy: z.string().nullable(),
  /**
   * `whole`: put back in a place of its own, it was what it had been. `as-made`: encrypted, and still the file that was read back when
   * it was made; only the recovery phrase can show more. `failed`: it does not come back. `none`: there is no copy.
   */
  outcome: z.enum(['whole', 'as-made', 'failed', 'none']),
  /** One sentence for people. */
  what: z.string(),
});
export type DrillReport = z.infer<typeof drillSchema>;

const FILE = 'drill.json';
/** A month, as often as the drill is held by itself. */
const EVERY_MS = 30 * 86_400_000;

/** What the last drill in a folder of copies found; undefined where none was held. */
export async function lastDrill(folder: string): Promise<DrillReport | undefined> {
  const text = await readFile(join(folder, FILE), 'utf8').catch(() => undefined);
  try {
    return text === undefined ? undefined : drillSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

export async function drillDue(folder: string, now: number): Promise<boolean> {
  const last = await lastDrill(folder);
  const at = last ? Date.parse(last.at) : Number.NaN;
  return Number.isNaN(at) || isToCome(at, now) || now - at >= EVERY_MS;
}

/** Puts the newest copy of a folder back in a place of its own, compares it with what it was, clears up, and keeps the report. */
export async function holdDrill(folder: string, now: number, identity?: string): Promise<DrillReport> {
  await makeFolderDurably(folder);
  clearAbandoned(folder);
  const copy = (await listCopies(folder, now))[0];
  const found = copy ? await tried(copy, now, identity) : NONE;
  const report = { at: new Date(now).toISOString(), copy: copy ? basename(copy.file) : null, ...found };
  await writeWhole(join(folder, FILE), `${JSON.stringify(report, null, 2)}\n`);
  return report;
}

type Found = Pick<DrillReport, 'outcome' | 'what'>;
const NONE: Found = { outcome: 'none', what: 'There is no copy to come back from' };

async function tried(copy: Copy, now: number, identity: string | undefined): Promise<Found> {
  const name = `The copy of ${dayOf(copy.madeAt)}`;
  if (copy.encrypted && identity === undefined) {
    const verified = await verifyEncrypted(copy.file);
    return verified.ok
      ? {
          outcome: 'as-made',
          what: `${name} is encrypted, and still what was read back when it was made. That it comes back only the recovery phrase can show: run \`rigworthy drill\` and give it`,
        }
      : failed(name, verified);
  }
  const back = await comesBack(copy, now, identity);
  if (!back.ok) return failed(name, back);
  const { rigs, blobs } = back.value;
  const entries = rigs.reduce((sum, rig) => sum + rig.entries, 0);
  return { outcome: 'whole', what: `${name} comes back whole: ${entries} entries, ${blobs.count} photos and papers` };
}

const failed = (name: string, result: Result<unknown>): Found => ({
  outcome: 'failed',
  what: `${name} DOES NOT COME BACK: ${result.ok ? 'it holds something else than was copied' : problemText(result.problems[0]!)}`,
});

/** What an empty place holds after the copy was put into it. Problems: those of `decryptCopy` and `restoreCopy`. */
async function comesBack(copy: Copy, now: number, identity: string | undefined): Promise<Result<CheckReport>> {
  const place = placeIn(dirname(copy.file), 'drill');
  await makeFolderDurably(place);
  try {
    const clear = identity === undefined ? copy.file : await inClear(copy, identity, join(place, 'clear'));
    if (typeof clear !== 'string') return clear;
    const restored = await restoreCopy(clear, { folder: join(place, 'data') }, now);
    if (!restored.ok) return restored;
    const { report } = restored.value;
    const manifest = await readManifest(copy.file);
    const isSame = !manifest || holdsSame(manifest.rigs, report.rigs);
    return isSame ? { ok: true, value: report } : { ok: false, problems: [DIFFERENT] };
  } finally {
    await rm(place, { recursive: true, force: true });
  }
}

const DIFFERENT = { code: 'store.copy-changed', what: 'It holds something else than was copied' };

async function inClear(copy: Copy, identity: string, place: string): Promise<string | Result<never>> {
  if (!copy.encrypted) return copy.file;
  await makeFolderDurably(place);
  const decrypted = await decryptCopy(copy.file, identity, place);
  return decrypted.ok ? decrypted.value : decrypted;
}

const dayOf = (ms: number): string =>
  new Date(ms).toLocaleDateString('en-US', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
