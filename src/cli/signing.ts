/** This machine's key, and the statements that it signs about a rig's logbook. */
import { randomBytes } from 'node:crypto';
import { open, readFile, rename } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { monotonicFactory } from 'ulid';
import { ENTRY_VERSION, type Entry } from '../logbook/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import type { Signer } from '../proof/index.ts';
import type { Io } from './io.ts';

const KEY_FILE = 'device.json';
const SECRET = /^[0-9a-f]{64}$/;

/**
 * The key of this machine, kept beside the logbooks, readable by its owner only, and never part of a copy. Made where there is none.
 * Problems: `cli.device-key` where the file is not one of ours.
 */
export async function deviceOf(folder: string): Promise<Result<Signer>> {
  const file = join(folder, KEY_FILE);
  const kept = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (kept === undefined) return ok(await writeKey(file, { secret: randomBytes(32), name: hostname() || 'computer' }));
  try {
    const { secret, name } = JSON.parse(kept) as { secret?: unknown; name?: unknown };
    if (typeof secret === 'string' && SECRET.test(secret) && typeof name === 'string' && name.trim() !== '')
      return ok({ secret: new Uint8Array(Buffer.from(secret, 'hex')), name });
  } catch {
    // Not JSON: told below.
  }
  return fail({
    code: 'cli.device-key',
    what: 'This is not the key of a device',
    where: file,
    expected: 'the file as it was made',
    next: 'Move it away; the next entry makes a new key. Then say that the old one is lost: `rigworthy device lost KEY`.',
  });
}

/** Gives this machine another name in its next statements. */
export async function renameDevice(folder: string, name: string): Promise<Result<Signer>> {
  const device = await deviceOf(folder);
  return device.ok ? ok(await writeKey(join(folder, KEY_FILE), { ...device.value, name })) : device;
}

/** A new key in place of the old one, which can sign nothing any more. */
export async function replaceKey(folder: string, name: string): Promise<Signer> {
  return writeKey(join(folder, KEY_FILE), { secret: randomBytes(32), name });
}

async function writeKey(file: string, { secret, name }: Signer): Promise<Signer> {
  const beside = `${file}.new`;
  const handle = await open(beside, 'w', 0o600);
  try {
    await handle.writeFile(`${JSON.stringify({ secret: Buffer.from(secret).toString('hex'), name })}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(beside, file);
  return { secret: new Uint8Array(secret), name };
}

/**
 * The entries of this machine's next statements: what it holds of a rig and has not signed yet.
 *
 * @param holds everything it holds of the rig, new entries too
 * @param by who sits at the machine
 * @param retires keys that end with these statements
 */
export async function statementsOf(
  device: Signer,
  rig: string,
  holds: readonly Entry[],
  { by, on, io, retires = [] }: { by: string; on: string; io: Io; retires?: readonly string[] },
): Promise<Entry[]> {
  // Cryptography is read when something is signed, not at every start.
  const { nextStatements } = await import('../proof/index.ts');
  const nextId = monotonicFactory(io.random);
  const now = io.clock();
  const moment = { rig, at: new Date(now).toISOString() };
  return nextStatements(device, holds, moment, retires).map((body) => ({
    id: nextId(now),
    ...moment,
    kind: 'witness',
    on,
    by,
    v: ENTRY_VERSION,
    body,
  }));
}
