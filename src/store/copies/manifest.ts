import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import { syncFolder } from '../blob-folder.ts';
import { partOf } from '../temporary.ts';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

/** What stands beside a copy, `….sqlite.json`: what it held when it was made. */
const manifestSchema = z.object({
  madeAt: z.string(),
  from: z.string(),
  /** Of the file as it is, encrypted or not. */
  sha256,
  rigs: z.array(
    z.object({
      rig: z.string(),
      entries: z.number().int(),
      digest: z.string(),
      /** Since copies are ordered by what they hold. */
      epoch: z.string().optional(),
    }),
  ),
  blobs: z.object({ count: z.number().int(), bytes: z.number().int() }),
  /** Counts the copies of a folder, whatever the clock says. */
  number: z.number().int().optional(),
  encrypted: z
    .object({
      recipient: z.string(),
      /** Of the copy before it was encrypted. */
      sha256,
      /** `sha256` of the encrypted file. */
      photos: z.array(z.object({ hash: sha256, sha256 })),
    })
    .optional(),
});
export type Manifest = z.infer<typeof manifestSchema>;

export const manifestOf = (copy: string): string => `${copy}.json`;

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

export function writeManifest(copy: string, manifest: Manifest): Promise<void> {
  return writeWhole(manifestOf(copy), `${JSON.stringify(manifest, null, 2)}\n`);
}

/** A small file of text that is there whole or not at all. */
export async function writeWhole(file: string, text: string): Promise<void> {
  const part = partOf(file);
  const opened = await open(part, 'wx', 0o600);
  try {
    await opened.writeFile(text);
    await opened.sync();
  } finally {
    await opened.close();
  }
  await rename(part, file);
  await syncFolder(dirname(file));
}

export async function fileHash(file: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(file)) hash.update(chunk as Buffer);
  return hash.digest('hex');
}
