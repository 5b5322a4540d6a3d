import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KINDS } from '../kill/kinds.ts';
import { buildWork, durationOf, killRound, makeRing } from '../kill/rounds.ts';
import { Folder } from '../support/keeping.ts';
import { startPostgres } from '../support/postgres.ts';

/** A few of those that `npm run kill` holds by hundreds; docs/internals/reliability.md has what they found. */
const ROUNDS = 2;
const TIMEOUT_MS = 600_000;

const temporary = process.env.TMPDIR;
let program: string;
beforeAll(async () => {
  program = await buildWork();
});
afterAll(() => {
  if (temporary === undefined) delete process.env.TMPDIR;
  else process.env.TMPDIR = temporary;
});

function rounds(database: string | undefined): void {
  const folder = new Folder();
  let ring: Awaited<ReturnType<typeof makeRing>>;
  beforeAll(async () => {
    ring = await makeRing(folder.path, database);
  }, TIMEOUT_MS);
  afterAll(() => folder.remove());
  it.each(KINDS)(
    '%s: all of it or nothing, and afterwards it can be done',
    async (kind) => {
      const durationMs = await durationOf(kind, program, ring);
      for (let round = 0; round < ROUNDS; round++)
        expect(await killRound(kind, round, { seed: 7, program, ring, durationMs })).toMatchObject({ round });
    },
    TIMEOUT_MS,
  );
}

describe(`killed midway, ${ROUNDS} rounds each, on SQLite`, () => rounds(undefined));

describe(`killed midway, ${ROUNDS} rounds each, on PostgreSQL`, () => {
  const server = startPostgres({ fsync: false });
  if (typeof server === 'string') {
    it('cannot be tested here', () => {
      console.warn(`PostgreSQL was NOT tested: ${server}`);
      expect(server).not.toBe('');
    });
  } else {
    rounds(server.url);
    afterAll(server.stop);
  }
});
