import { existsSync, mkdirSync, rmSync, statSync, truncateSync } from 'node:fs';
import pg from 'pg';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder } from '../../../test/support/keeping.ts';
import { startPostgres } from '../../../test/support/postgres.ts';
import { unwrap } from '../../problem/index.ts';
import { FILE_NAME, makeCopy, openStore, type Person, restoreCopy, type Store, type Target } from '../index.ts';

const NOW = '2026-06-12T08:30:00.000Z';
const MS = Date.parse(NOW);
const PASSWORD = 'four words in a row';
const LATER = 'another four words here';

/** What a copy holds that is taken away after it was made. */
interface Given {
  readonly ada: Person;
  readonly ben: Person;
  readonly copy: string;
  readonly tokens: Readonly<Record<'share' | 'calendar' | 'used' | 'kept' | 'session' | 'device', string>>;
}

async function give(store: Store, folder: Folder): Promise<Given> {
  const { people, roles, links, sessions } = store.accounts;
  const add = async (name: string) => unwrap(await people.add({ name, shown: name, password: PASSWORD }, NOW));
  const [ada, ben] = [await add('ada'), await add('ben')];
  unwrap(await store.append([entryNumber(1)], { via: 'a test' }));
  await roles.claim('marigold', ada.account, NOW);
  await roles.give('marigold', ben.account, 'owner', ada.account, NOW);
  const link = async (kind: 'share' | 'calendar' | 'invite') =>
    (await links.add('marigold', { kind, role: 'helper', label: kind, days: 9, by: ada.account }, NOW)).token;
  const tokens = {
    share: await link('share'),
    calendar: await link('calendar'),
    used: await link('invite'),
    kept: await link('share'),
    session: await sessions.open(ben.account, 'phone', NOW),
    device: (await sessions.deviceLink(ben.account, NOW)).token,
  };
  return { ada, ben, copy: (await makeCopy(store, folder.file('stick'), MS)).file, tokens };
}

async function takeAway(store: Store, { ada, ben, tokens }: Given): Promise<void> {
  const { people, roles, links } = store.accounts;
  for (const kind of ['share', 'calendar'] as const)
    await links.remove('marigold', (await links.find(tokens[kind], kind, NOW))!.id, ada.account, NOW);
  unwrap(await store.accounts.join(tokens.used, { name: 'eve', shown: 'Eve', password: PASSWORD }, NOW));
  await roles.take('marigold', ben.account, ada.account, NOW);
  unwrap(await people.setPassword(ada, LATER, { by: ada.account, now: NOW }));
}

/** Which of the things that were taken away let anybody in again. */
async function backAgain(store: Store, { ada, ben, tokens }: Given): Promise<string[]> {
  const { people, roles, links, sessions } = store.accounts;
  const back: string[] = [];
  const say = (is: boolean, what: string): unknown => is && back.push(what);
  say((await links.find(tokens.share, 'share', NOW)) !== undefined, 'a revoked link');
  say((await links.find(tokens.calendar, 'calendar', NOW)) !== undefined, 'a revoked feed');
  say((await links.find(tokens.used, 'invite', NOW)) !== undefined, 'a used invitation');
  say((await roles.of('marigold', ben.account)) !== undefined, 'a removed person');
  say((await people.verify('ada', PASSWORD)) !== undefined, 'an old password');
  say((await sessions.find(tokens.session, NOW)) !== undefined, 'a session');
  say((await sessions.useDeviceLink(tokens.device, NOW)) !== undefined, 'a device link');
  say((await roles.of('marigold', ada.account)) !== 'owner', 'no owner');
  return back;
}

const ALL_IN_COPY = ['a removed person', 'an old password'];

function contract(kind: string, place: () => { target: Target; ruin: () => Promise<void>; elsewhere: Target }) {
  describe(`a copy put back, on ${kind}`, () => {
    let folder: Folder;
    beforeEach(() => {
      folder = new Folder();
    });
    afterEach(() => folder.remove());
    const open = async (target: Target) => unwrap(await openStore(target, { passwordCost: 4 }));

    it('gives nothing back that was taken away since, and keeps what was given since', async () => {
      const { target } = place();
      const store = await open(target);
      const given = await give(store, folder);
      await takeAway(store, given);
      await store.close();
      const { access } = unwrap(await restoreCopy(given.copy, target, MS + 1000));
      expect(access).toEqual({ kind: 'kept', people: 3, links: 1, ownerless: [] });
      const after = await open(target);
      expect(await backAgain(after, given)).toEqual([]);
      const { people, roles, links, log } = after.accounts;
      expect(await people.verify('ada', LATER)).toEqual(given.ada);
      const eve = (await people.verify('eve', PASSWORD))!;
      expect(await roles.of('marigold', eve.account)).toBe('helper');
      expect(await links.find(given.tokens.kept, 'share', NOW)).toBeDefined();
      const told = (await log.of('marigold', 100)).map(({ what }) => what);
      expect(told[0]).toBe('restored');
      expect(told.filter((what) => what === 'revoked' || what === 'removed')).toHaveLength(3);
      await after.close();
      // And once more, from the same copy.
      unwrap(await restoreCopy(given.copy, target, MS + 2000));
      const again = await open(target);
      expect(await backAgain(again, given)).toEqual([]);
      expect((await again.accounts.log.of('marigold', 100)).map(({ what }) => what)).toEqual(['restored', ...told]);
      await again.close();
    });

    it('in a new place lets in by no link, invitation or session of the copy', async () => {
      const { target, elsewhere } = place();
      const store = await open(target);
      const given = await give(store, folder);
      await takeAway(store, given);
      await store.close();
      const { access } = unwrap(await restoreCopy(given.copy, elsewhere, MS + 1000));
      expect(access).toEqual({ kind: 'copy', people: 2, links: 4, ownerless: [] });
      const after = await open(elsewhere);
      expect(await backAgain(after, given)).toEqual(ALL_IN_COPY);
      expect(await after.accounts.links.of('marigold', NOW)).toEqual([]);
      await after.close();
    });

    it('where what was there cannot be read, locks everybody until they have a new password', async () => {
      const { target, ruin } = place();

      const store = await open(target);
      const given = await give(store, folder);
      await takeAway(store, given);
      await store.close();
      await ruin();
      const { access } = unwrap(await restoreCopy(given.copy, target, MS + 1000));
      expect(access).toEqual({ kind: 'locked', people: 2, links: 4, ownerless: [] });
      const after = await open(target);
      const { people } = after.accounts;
      expect(await backAgain(after, given)).toEqual(['a removed person']);
      for (const name of ['ada', 'ben'])
        for (const password of [PASSWORD, LATER, 'locked', ''])
          expect(await people.verify(name, password)).toBeUndefined();
      expect((await people.all()).map(({ name, locked }) => [name, locked])).toEqual([
        ['ada', true],
        ['ben', true],
      ]);
      unwrap(await people.setPassword(given.ada, LATER, { by: 'command', now: NOW }));
      expect(await people.verify('ada', LATER)).toEqual(given.ada);
      await after.close();
    });

    it('of another household leaves its rigs without an owner, and says which', async () => {
      const { target, elsewhere } = place();
      const theirs = await open(target);
      const given = await give(theirs, folder);
      await theirs.close();
      const own = await open(elsewhere);
      const zoe = unwrap(await own.accounts.people.add({ name: 'zoe', shown: 'Zoe', password: PASSWORD }, NOW));
      await own.close();
      const { access } = unwrap(await restoreCopy(given.copy, elsewhere, MS + 1000));
      expect(access).toEqual({ kind: 'kept', people: 1, links: 0, ownerless: ['marigold'] });
      const after = await open(elsewhere);
      expect(await after.accounts.people.verify('ada', PASSWORD)).toBeUndefined();
      expect(await after.accounts.people.verify('zoe', PASSWORD)).toEqual(zoe);
      await after.close();
    });
  });
}

const folders: Folder[] = [];
afterAll(() => {
  for (const folder of folders) folder.remove();
});
contract('SQLite', () => {
  const folder = new Folder();
  folders.push(folder);
  const data = folder.file('data');
  return {
    target: { folder: data },
    elsewhere: { folder: folder.file('elsewhere') },
    ruin: async () => truncateSync(`${data}/${FILE_NAME}`, 5000),
  };
});

describe('a data folder whose file is gone', () => {
  it('is no new place', async () => {
    const [folder, data] = [new Folder(), new Folder()];
    const store = unwrap(await openStore({ folder: data.path }, { passwordCost: 4 }));
    const given = await give(store, folder);
    await store.close();
    rmSync(data.file(FILE_NAME));
    mkdirSync(data.file('copies'));
    expect(unwrap(await restoreCopy(given.copy, { folder: data.path }, MS)).access.kind).toBe('locked');
    expect(existsSync(data.file(FILE_NAME))).toBe(true);
    expect(statSync(data.file(FILE_NAME)).mode & 0o077).toBe(0);
    data.remove();
    folder.remove();
  });
});

const server = startPostgres({ fsync: false });
if (typeof server === 'string') {
  it('cannot be tested on PostgreSQL here', () => {
    console.warn(`PostgreSQL was NOT tested: ${server}`);
    expect(server).not.toBe('');
  });
} else {
  afterAll(server.stop);
  let places = 0;
  contract('PostgreSQL', () => {
    const [schema, other] = [`place_${places}`, `other_${places++}`];
    const ruin = async (): Promise<void> => {
      const client = new pg.Client({ connectionString: server.url });
      await client.connect();
      await client.query(`DROP TABLE ${schema}.people CASCADE`);
      await client.end();
    };
    return { target: { database: server.url, schema }, elsewhere: { database: server.url, schema: other }, ruin };
  });
}
