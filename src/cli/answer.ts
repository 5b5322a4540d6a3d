/** How every command ends: an answer on the standard output, or problems and the code 2. */
import type { Problem, Result } from '../problem/index.ts';
import type { Io } from './io.ts';
import { type Keeping, type OpenRig, openKeeping, openRig, type RigOptions } from './keeping.ts';
import { problemsText } from './view/problems.ts';

/** Answered. */
export const ANSWERED = 0;
/** Something is not right with what was looked at: a damaged store, a catalog with doubts. */
export const NOT_RIGHT = 1;
/** Bad input, or what was asked cannot be done; nothing was written. */
export const REFUSED = 2;

/** One JSON document, two spaces. */
export function writeJson(io: Io, value: unknown): void {
  io.out(`${JSON.stringify(value, undefined, 2)}\n`);
}

/** Tells problems: as JSON on the standard output where JSON was asked for, for people on the standard error. */
export function refuse(io: Io, problems: readonly Problem[], json = false): number {
  if (json) writeJson(io, { problems });
  io.err(problemsText(problems));
  return REFUSED;
}

async function within<T extends { close(): Promise<void> }>(
  opened: Result<T>,
  io: Io,
  json: boolean | undefined,
  work: (thing: T) => Promise<number>,
): Promise<number> {
  if (!opened.ok) return refuse(io, opened.problems, json);
  try {
    return await work(opened.value);
  } finally {
    await opened.value.close();
  }
}

/** Opens the rig that the options name, and closes it again. */
export async function withRig(options: RigOptions, io: Io, work: (rig: OpenRig) => Promise<number>): Promise<number> {
  return within(await openRig(options, io), io, options.json, work);
}

/** Opens the store alone. */
export async function withKeeping(
  options: RigOptions,
  io: Io,
  work: (keeping: Keeping) => Promise<number>,
): Promise<number> {
  return within(await openKeeping(options, io), io, options.json, work);
}
