/** Files that are named on the command line; `-` is the standard input or output. */
import { readFile, writeFile } from 'node:fs/promises';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { encodingOf } from '../sheets/index.ts';
import type { Io } from './io.ts';

/** Problems: `cli.file-unreadable`. */
export async function readText(file: string, io: Io): Promise<Result<string>> {
  if (file === '-') return ok(await io.input());
  const bytes = await readBytes(file);
  return bytes.ok ? ok(bytes.value.toString('utf8')) : bytes;
}

/** A spreadsheet's text, whatever it is encoded in. Problems: `cli.file-unreadable`, `table.workbook`. */
export async function readSheetText(file: string, io: Io): Promise<Result<string>> {
  if (file === '-') return ok(await io.input());
  const bytes = await readBytes(file);
  const encoding = bytes.ok ? encodingOf(bytes.value) : bytes;
  return encoding.ok && bytes.ok
    ? ok(new TextDecoder(encoding.value).decode(bytes.value))
    : (encoding as Result<string>);
}

async function readBytes(file: string): Promise<Result<Buffer>> {
  try {
    return ok(await readFile(file));
  } catch (error) {
    return fail({
      code: 'cli.file-unreadable',
      what: `The file cannot be read: ${(error as Error).message}`,
      where: file,
      next: 'Check its name. Nothing was imported.',
    });
  }
}

/** Writes a file that is not there yet, or replaces it with `force`. Problems: `cli.file-there`, `cli.file-unwritable`. */
export async function writeText(file: string, text: string, force = false): Promise<Result<true>> {
  try {
    await writeFile(file, text, { flag: force ? 'w' : 'wx' });
    return ok(true);
  } catch (error) {
    const exists = (error as NodeJS.ErrnoException).code === 'EEXIST';
    const problem: Problem = {
      code: exists ? 'cli.file-there' : 'cli.file-unwritable',
      what: exists ? 'The file is there already' : `The file cannot be written: ${(error as Error).message}`,
      where: file,
      next: exists ? 'Name another, or replace it with --force.' : 'Name another.',
    };
    return fail(problem);
  }
}

/** No file is named: the text goes to the standard output. */
export function isStandard(file: string | undefined): file is undefined | '-' {
  return file === undefined || file === '-';
}
