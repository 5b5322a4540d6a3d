/** One page that verifies a logbook without a network: the file is read here, and goes nowhere. */
import { unzipSync } from 'fflate';
import { type Entry, readEntries } from '../../logbook/index.ts';
import { problemText } from '../../problem/index.ts';
import { type Head, headOf, verificationLines, verifyLogbook } from '../../proof/index.ts';

/** The logbook's name within an archive. */
const LOGBOOK_FILE = 'logbook.jsonl';
/** Larger than any logbook we know; a file made to fill the memory is not read. */
const BYTES_MAX = 256 * 1024 * 1024;
const PROBLEMS_SHOWN = 5;

const byId = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;

function linesOf(bytes: Uint8Array): string {
  // The two letters that every ZIP file begins with.
  if (bytes[0] !== 0x50 || bytes[1] !== 0x4b) return new TextDecoder().decode(bytes);
  const files = unzipSync(bytes, {
    filter: ({ name, originalSize }) => name === LOGBOOK_FILE && originalSize <= BYTES_MAX,
  });
  const logbook = files[LOGBOOK_FILE];
  if (!logbook) throw new Error(`There is no ${LOGBOOK_FILE} in this archive.`);
  return new TextDecoder().decode(logbook);
}

function show(verdict: string, lines: readonly (readonly [kind: string, text: string])[]): void {
  byId('verdict').textContent = verdict;
  byId('lines').replaceChildren(
    ...lines.map(([kind, text]) => {
      const item = document.createElement('li');
      item.className = kind;
      item.textContent = text;
      return item;
    }),
  );
}

function headsIn(text: string): Head[] {
  return text
    .split(/[\s,;]+/)
    .filter((code) => code !== '')
    .map((code) => {
      const head = headOf(code);
      if (!head) throw new Error(`“${code}” is not a code, such as 3f9a02c4d1e0aa12-7-a1b2c3d4e5f60718.`);
      return head;
    });
}

function verify(entries: readonly Entry[], heads: readonly Head[]): void {
  const rigs = [...new Set(entries.map(({ rig }) => rig))];
  const lines = rigs.flatMap((rig) => {
    const own = entries.filter((entry) => entry.rig === rig);
    return verificationLines(verifyLogbook(own, heads), own);
  });
  show(
    lines
      .filter(({ kind }) => kind === 'verdict')
      .map(({ text }) => text)
      .join(' '),
    lines.filter(({ kind }) => kind !== 'verdict').map(({ kind, text }) => [kind, text]),
  );
}

async function look(): Promise<void> {
  const file = byId<HTMLInputElement>('file').files?.[0];
  if (!file) return;
  show('Reading …', []);
  try {
    if (file.size > BYTES_MAX) throw new Error('This file is too large for a logbook.');
    const read = readEntries(linesOf(new Uint8Array(await file.arrayBuffer())));
    if (read.ok) verify(read.value, headsIn(byId<HTMLInputElement>('heads').value));
    else
      show(
        'This is not a whole logbook.',
        read.problems.slice(0, PROBLEMS_SHOWN).map((one) => ['wrong', problemText(one)]),
      );
  } catch (error) {
    show('This file cannot be read.', [['wrong', error instanceof Error ? error.message : String(error)]]);
  }
}

for (const id of ['file', 'heads']) byId(id).addEventListener('change', () => void look());
