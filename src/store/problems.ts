import { type Problem, ProblemError } from '../problem/index.ts';

/** The codes under which the keeping itself fails. */
export type StoreFailure =
  | 'store.full'
  | 'store.busy'
  | 'store.damaged'
  | 'store.moved'
  | 'store.unwritable'
  | 'store.unreachable'
  | 'store.closed'
  | 'store.foreign'
  | 'store.truncated'
  | 'store.newer'
  | 'store.missing';

const texts: Record<StoreFailure, { what: string; next: string }> = {
  'store.full': {
    what: 'There is no space left to write to',
    next: 'Nothing was written and nothing is lost. Free some space, then try again.',
  },
  'store.busy': {
    what: 'Another program has been writing for too long',
    next: 'Nothing was written. Try again; if it stays so, look for a stuck program.',
  },
  'store.damaged': {
    what: 'The data is damaged',
    next: 'Run `rigworthy check`, then `rigworthy restore` to go back to the newest good copy.',
  },
  'store.moved': {
    what: 'The data file was replaced or removed while this program had it open',
    next: 'Nothing was written. Start this program again.',
  },
  'store.unwritable': {
    what: 'The data cannot be written to',
    next: 'Look at the permissions of the data folder and whether the disk is read-only.',
  },
  'store.unreachable': {
    what: 'The database server cannot be reached',
    next: 'Nothing was written. Look at the connection string and whether the server runs.',
  },
  'store.closed': { what: 'The store is closed', next: 'Start the program again.' },
  'store.foreign': {
    what: 'This file is not a Rigworthy logbook',
    next: 'It was left untouched. Name another file or folder.',
  },
  'store.truncated': {
    what: 'The data file is cut short',
    next: 'It was left untouched. Run `rigworthy restore` to go back to the newest good copy.',
  },
  'store.newer': {
    what: 'The data was written by a newer program',
    next: 'It was left untouched. Update Rigworthy, then try again.',
  },
  'store.missing': { what: 'There is no data here', next: 'Name the folder or file that holds it.' },
};

/** A failure of the keeping as a problem a person can act on. */
export function storeProblem(code: StoreFailure, where: string, detail?: string): Problem {
  const { what, next } = texts[code];
  return { code, what: detail ? `${what}: ${detail}` : what, where, next };
}

export function storeError(code: StoreFailure, where: string, detail?: string): ProblemError {
  return new ProblemError([storeProblem(code, where, detail)]);
}

export function idConflict(id: string): Problem {
  return {
    code: 'store.id-conflict',
    what: `Another entry already has the id ${id}`,
    where: id,
    expected: 'the same content under the same id',
    next: 'Entries are never changed; strike it and write a new one.',
  };
}
