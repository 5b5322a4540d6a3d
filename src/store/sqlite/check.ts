import { setImmediate as turn } from 'node:timers/promises';
import type { Database } from 'better-sqlite3';
import { blobHash } from '../blob.ts';
import type { BlobFolder } from '../blob-folder.ts';
import { CheckFindings, checkLines, type LineRow } from '../check.ts';
import type { CheckReport } from '../store.ts';
import { failureOf } from './failure.ts';

/** Rows read before others get a turn. */
const CHUNK = 2000;

/** Reads the whole file and every blob. What cannot be read is a finding, not an exception. */
export async function checkFile(db: Database, blobs: Pick<BlobFolder, 'read'>): Promise<CheckReport> {
  const findings = new CheckFindings();
  const structure = attempt(() => db.pragma('integrity_check(20)', { simple: false }) as { integrity_check: string }[]);
  if (typeof structure === 'string') findings.damaged(structure, 'the file');
  else for (const { integrity_check: text } of structure) if (text !== 'ok') findings.damaged(text, 'the file');
  for (const broken of many(() => db.pragma('foreign_key_check') as { table: string }[], findings)) {
    findings.damaged(`A row of ${broken.table} belongs to no rig`, 'the file');
  }
  for (const { rig, head } of many(
    () => db.prepare('SELECT rig, head FROM rigs ORDER BY rig').all() as { rig: string; head: number }[],
    findings,
  )) {
    await checkLines(rig, head, rowsOf(db, rig, findings), findings);
  }
  for (const info of many(
    () => db.prepare('SELECT DISTINCT hash, bytes FROM blobs').all() as { hash: string; bytes: number }[],
    findings,
  )) {
    const content = await blobs.read(info.hash);
    if (!content) findings.damaged('The photo or paper is missing', info.hash);
    else if (content.byteLength !== info.bytes || blobHash(content) !== info.hash)
      findings.damaged('The photo or paper is not what was kept', info.hash);
    else findings.blob(info.hash, info.bytes);
  }
  return findings.report();
}

/** A rig's rows in the order of their ids, a chunk at a time. */
async function* rowsOf(db: Database, rig: string, findings: CheckFindings): AsyncGenerator<LineRow> {
  const chunk = db.prepare<[string, string, number], LineRow>(
    'SELECT rig, seq, id, line, via, seal FROM entries WHERE rig = ? AND id > ? ORDER BY id LIMIT ?',
  );
  let last = '';
  for (;;) {
    const rows = many(() => chunk.all(rig, last, CHUNK), findings);
    yield* rows;
    if (rows.length < CHUNK) return;
    last = rows.at(-1)!.id;
    await turn();
  }
}

function many<T>(act: () => T[], findings: CheckFindings): T[] {
  const rows = attempt(act);
  if (typeof rows !== 'string') return rows;
  findings.damaged(rows, 'the file');
  return [];
}

/** The value, or SQLite's words on why it cannot be had. */
function attempt<T>(act: () => T): T | string {
  try {
    return act();
  } catch (error) {
    failureOf(error);
    return (error as Error).message;
  }
}
