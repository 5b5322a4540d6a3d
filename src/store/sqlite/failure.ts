import { ProblemError } from '../../problem/index.ts';
import { type StoreFailure, storeError } from '../problems.ts';

/** What a failure of SQLite or of the file system means here. An error of neither is our own mistake and is thrown on. */
export function failureOf(error: unknown): StoreFailure {
  const code = String((error as { code?: unknown }).code ?? '');
  if (
    code === 'SQLITE_FULL' ||
    code === 'ENOSPC' ||
    code === 'EDQUOT' ||
    code === 'EFBIG' ||
    code === 'SQLITE_IOERR_WRITE'
  )
    return 'store.full';
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) return 'store.busy';
  if (
    code.startsWith('SQLITE_CORRUPT') ||
    code === 'SQLITE_NOTADB' ||
    code.startsWith('SQLITE_IOERR') ||
    code === 'EIO'
  )
    return 'store.damaged';
  if (
    code.startsWith('SQLITE_READONLY') ||
    code.startsWith('SQLITE_CANTOPEN') ||
    ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'EISDIR', 'ENOENT'].includes(code)
  ) {
    return 'store.unwritable';
  }
  throw error;
}

/** Any failure as a `ProblemError` that says what a person can do. */
export function translated(error: unknown, where: string): ProblemError {
  return error instanceof ProblemError ? error : storeError(failureOf(error), where, (error as Error).message);
}
