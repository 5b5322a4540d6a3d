import { needsNewerVersion, readEntry } from '../logbook/index.ts';
import { LogbookDigest, sealOf } from './digest.ts';
import { belongs, keptOf } from './lines.ts';
import { storeProblem } from './problems.ts';
import type { CheckReport } from './store.ts';

export interface LineRow {
  readonly rig: string;
  readonly seq: number;
  readonly id: string;
  readonly line: string;
  readonly via: string;
  readonly seal: Uint8Array;
}

/** Most findings reported one by one; a file in ruins needs no more. */
const FINDINGS_MAX = 50;

/** Collects what a check finds. */
export class CheckFindings {
  readonly #problems: CheckReport['problems'][number][] = [];
  readonly #rigs: CheckReport['rigs'][number][] = [];
  readonly #blobs = new Map<string, number>();
  #newer = 0;

  damaged(what: string, where: string): void {
    if (this.#problems.length < FINDINGS_MAX) this.#problems.push({ ...storeProblem('store.damaged', where), what });
  }

  rig(rig: string, entries: number, digest: string): void {
    this.#rigs.push({ rig, entries, digest });
  }

  newer(): void {
    this.#newer++;
  }

  /** The same content of two rigs counts once. */
  blob(hash: string, bytes: number): void {
    this.#blobs.set(hash, bytes);
  }

  report(): CheckReport {
    const blobs = { count: this.#blobs.size, bytes: [...this.#blobs.values()].reduce((sum, bytes) => sum + bytes, 0) };
    return { ok: this.#problems.length === 0, problems: this.#problems, rigs: this.#rigs, blobs, newer: this.#newer };
  }
}

/** Every line of a rig: its seal, that it is an entry, that it stands where it says, and that no number is missing. */
export async function checkLines(
  rig: string,
  head: number,
  rows: AsyncIterable<LineRow>,
  findings: CheckFindings,
): Promise<void> {
  const seen = new Uint8Array(head + 1);
  const digest = new LogbookDigest();
  let count = 0;
  for await (const row of rows) {
    const wrong = wrongWith(row);
    if (wrong === 'newer') findings.newer();
    else if (wrong) findings.damaged(wrong, `${rig}, number ${row.seq}`);
    if (row.seq > head || seen[row.seq] === 1)
      findings.damaged('An entry has a number that is not its own', `${rig}, number ${row.seq}`);
    else seen[row.seq] = 1;
    digest.add(row.line);
    count++;
  }
  for (let seq = 1; seq <= head; seq++)
    if (seen[seq] === 0) findings.damaged('An entry is missing', `${rig}, number ${seq}`);
  findings.rig(rig, count, digest.end());
}

/** What is wrong with a row, or that it needs a newer version to be read. */
function wrongWith(row: LineRow): string | 'newer' | undefined {
  if (!sealOf(row.via, row.line).equals(row.seal)) return 'An entry is not what was written';
  if (!belongs(row.line, row.id, row.rig)) return 'An entry is filed under another id or rig';
  const kept = keptOf(row, row.id);
  const read = 'entry' in kept ? readEntry(kept.entry, row.id) : undefined;
  const problems = 'entry' in kept ? (read?.ok ? [] : (read?.problems ?? [])) : kept.problems;
  if (problems.length === 0) return undefined;
  return needsNewerVersion(problems) ? 'newer' : problems[0]!.what;
}
