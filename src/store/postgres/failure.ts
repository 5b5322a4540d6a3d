import { ProblemError } from '../../problem/index.ts';
import { type StoreFailure, storeError } from '../problems.ts';

/** SQLSTATE codes and classes (PostgreSQL manual, appendix A), and Node's codes of a lost connection; the longest that fits counts. */
const failures: Readonly<Record<string, StoreFailure>> = {
  '53100': 'store.full',
  '53': 'store.unreachable',
  '57P': 'store.unreachable',
  '57014': 'store.busy',
  '08': 'store.unreachable',
  '28': 'store.unreachable',
  '3D000': 'store.unreachable',
  '40001': 'store.busy',
  '40P01': 'store.busy',
  '55P03': 'store.busy',
  '25006': 'store.unwritable',
  '42501': 'store.unwritable',
  '3F000': 'store.missing',
  '42P01': 'store.missing',
  XX001: 'store.damaged',
  XX002: 'store.damaged',
  '58030': 'store.damaged',
  ECONN: 'store.unreachable',
  ENOTFOUND: 'store.unreachable',
  ENOENT: 'store.unreachable',
  EACCES: 'store.unreachable',
  EHOST: 'store.unreachable',
  EPIPE: 'store.unreachable',
  ETIMEDOUT: 'store.unreachable',
};

/** What `pg` says, without a code, when a connection ended or could not be had in time. */
const LOST =
  /Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error|Connection ended/;

/** A failure of PostgreSQL as what it means here; an error of our own making is given back as it is. */
export function translated(error: unknown, where: string): unknown {
  if (error instanceof ProblemError) return error;
  const { code = '', message = '' } = error as { code?: string; message?: string };
  let best = '';
  for (const start of Object.keys(failures))
    if (String(code).startsWith(start) && start.length > best.length) best = start;
  const failure = failures[best] ?? (LOST.test(message) ? 'store.unreachable' : undefined);
  return failure ? storeError(failure, where, message) : error;
}
