/** `import` of JSON lines and of archives: read piece by piece, so that a logbook of any size comes in. */
import { access, constants, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { addEntry, admit, type Entry } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import {
  clearAbandonedTemporary,
  type ImportedArchive,
  type ImportProgress,
  importArchive,
  importLines,
  temporaryFolder,
} from '../../store/index.ts';
import { ANSWERED, refuse, withKeeping, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import { type Keeping, logbookOf, type RigOptions, stateOf } from '../keeping.ts';
import { problemsText } from '../view/problems.ts';

export interface ImportLinesOptions extends RigOptions {
  readonly asIs?: boolean;
}

/** So many entries are judged one by one, as if they were written today; for that they are held in memory. */
const JUDGED_MAX = 20_000;
const JUDGED_BYTES_MAX = 64 * 1024 * 1024;
/** Doubts told one by one. */
const ODD_MAX = 100;
/** Lines between two words on how far it is. */
const WORD_EVERY = 10_000;

const NOTHING: Problem = {
  code: 'cli.import-empty',
  what: 'There is no entry in it',
  expected: 'JSON lines, as `rigworthy export` writes them',
  next: 'Nothing was imported.',
};
const WHOLE: Problem = { code: 'cli.import-whole', what: 'Nothing was imported', expected: 'a file that is whole' };

/** What the logbook would not admit, entry by entry in the order of writing. */
async function refused(entries: readonly Entry[], { store, now }: Keeping): Promise<Problem[]> {
  const catalog = shippedCatalog();
  const problems: Problem[] = [];
  for (const rig of new Set(entries.map((entry) => entry.rig))) {
    let state = stateOf(await logbookOf(store, rig));
    const own = entries.filter((entry) => entry.rig === rig).sort((a, b) => (a.id < b.id ? -1 : 1));
    for (const entry of own) {
      if (!state.entries.has(entry.id)) problems.push(...admit(state, entry, { catalog, today: now }));
      state = addEntry(state, entry);
    }
  }
  return problems;
}

/** Judges what comes in, while that is few enough to be held. */
class Judge {
  readonly odd: Problem[] = [];
  #held: Entry[] = [];
  #count = 0;
  #bytes = 0;

  constructor(
    readonly keeping: Keeping,
    readonly asIs: boolean,
  ) {}

  get #isTooMuch(): boolean {
    return this.#count > JUDGED_MAX || this.#bytes > JUDGED_BYTES_MAX;
  }

  take(entries: readonly Entry[], bytes: number): void {
    this.#count += entries.length;
    this.#bytes += bytes;
    if (!this.#isTooMuch) this.#held.push(...entries);
    else this.#held = [];
  }

  /** Why nothing is written, if so. */
  async verdict(): Promise<readonly Problem[]> {
    if (this.#count === 0) return [NOTHING];
    if (this.#isTooMuch) {
      const many: Problem = {
        code: 'cli.import-unjudged',
        what: `More than ${JUDGED_MAX.toLocaleString('en-US')} entries, or ${JUDGED_BYTES_MAX / 1048576} MiB, are not judged one by one, as if they were written today`,
        next: 'A logbook that was kept before comes in as it is with --as-is.',
      };
      this.odd.push(many);
      return this.asIs ? [] : [many];
    }
    const odd = await refused(this.#held, this.keeping);
    this.#held = [];
    this.odd.push(...odd.slice(0, ODD_MAX));
    if (odd.length > ODD_MAX)
      this.odd.push({ code: 'cli.import-more', what: `So it is with ${odd.length - ODD_MAX} more` });
    if (this.odd.length === 0 || this.asIs) return [];
    const how: Problem = {
      code: 'cli.import-whole',
      what: 'Nothing was imported',
      next: 'If these entries were kept before and shall come in as they are, add --as-is.',
    };
    return [...this.odd, how];
  }
}

const progressTo =
  (io: Io) =>
  ({ step, lines }: ImportProgress): void => {
    if (lines % WORD_EVERY !== 0 || lines === 0) return;
    io.err(`${step === 'reading' ? 'Read' : 'Written'}: ${lines.toLocaleString('en-US')} lines\n`);
  };

/** Brings in a file of JSON lines, or the standard input (`-`), or, with `.zip`, an archive. */
export async function importLogbook(file: string, options: ImportLinesOptions, io: Io): Promise<number> {
  const unreadable = file === '-' ? undefined : await access(file, constants.R_OK).catch((error: Error) => error);
  if (unreadable) {
    const what = `The file cannot be read: ${unreadable.message}`;
    const next = 'Check its name. Nothing was imported.';
    return refuse(io, [{ code: 'cli.file-unreadable', what, where: file, next }], options.json);
  }
  return withKeeping(options, io, async (keeping) => {
    const judge = new Judge(keeping, options.asIs === true);
    const settings = { via: 'import', onProgress: progressTo(io), judge };
    const archive = /\.zip$/i.test(file);
    const done = await named(file, io, (path) =>
      archive ? importArchive(keeping.store, path, settings) : importLines(keeping.store, path, settings),
    );
    if (!done.ok) {
      const own = done.problems.some(({ code }) => code.startsWith('cli.') || code.startsWith('store.'));
      return refuse(io, own || judge.odd.length ? done.problems : [...done.problems, WHOLE], options.json);
    }
    const { added, known, rigs } = done.value;
    if (judge.odd.length) io.err(problemsText(judge.odd));
    const photos = archive ? (done.value as ImportedArchive) : undefined;
    if (options.json) {
      const more = photos ? { photos: photos.photos, photosMissing: photos.photosMissing } : {};
      writeJson(io, { added, known, rigs, odd: judge.odd, ...more });
      return ANSWERED;
    }
    const there = known ? `; ${known} were there already` : '';
    io.out(`Imported ${added} ${added === 1 ? 'entry' : 'entries'} of ${rigs.join(', ')}${there}.\n`);
    if (photos) io.out(`${photosText(photos)}\n`);
    return ANSWERED;
  });
}

function photosText({ photos, photosMissing }: { photos: number; photosMissing: number }): string {
  const came = `${photos} ${photos === 1 ? 'photo or paper' : 'photos and papers'} came with it`;
  return photosMissing
    ? `${came}; ${photosMissing} did not: the archive was made without the places where they were taken.`
    : `${came}.`;
}

/** The standard input is put into a file first, since it is read twice. */
async function named<T>(file: string, io: Io, act: (path: string) => Promise<T>): Promise<T> {
  if (file !== '-') return act(file);
  clearAbandonedTemporary();
  const folder = await temporaryFolder('import');
  try {
    const path = join(folder, 'input.jsonl');
    await writeFile(path, await io.input(), { mode: 0o600 });
    return await act(path);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
