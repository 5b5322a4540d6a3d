import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { unwrap } from '../../problem/index.ts';
import type { Accounts, Store } from '../index.ts';
import type { Person } from './people.ts';

const NOW = '2026-06-12T08:30:00.000Z';
const minutesOn = (minutes: number) => new Date(Date.parse(NOW) + minutes * 60_000).toISOString();
const DAY = 24 * 60;
const PASSWORD = 'four words in a row';

/** What accounts promise, on every kind of store. Passwords at a low cost: what they cost is tested once, elsewhere. */
export function accountsContract(kind: string, open: () => Promise<Store>): void {
  describe(`accounts, on ${kind}`, () => {
    let store: Store;
    let accounts: Accounts;
    let ada: Person;
    let ben: Person;
    beforeEach(async () => {
      store = await open();
      accounts = store.accounts;
      ada = unwrap(await accounts.people.add({ name: 'ada', shown: 'Ada', password: PASSWORD }, NOW));
      ben = unwrap(await accounts.people.add({ name: 'ben', shown: 'Ben', password: PASSWORD }, NOW));
    });
    afterEach(() => store.close());

    it('know a person by name and password, and nobody by less', async () => {
      expect(await accounts.people.verify('ada', PASSWORD)).toEqual(ada);
      for (const [name, password] of [
        ['ada', `${PASSWORD} `],
        ['ada', ''],
        ['eve', PASSWORD],
        ['', ''],
      ] as const) {
        expect(await accounts.people.verify(name, password)).toBeUndefined();
      }
      expect(await accounts.people.count()).toBe(2);
      expect(await accounts.people.byName('ben')).toEqual(ben);
    });

    it('take no name twice, no bad name and no weak password', async () => {
      const add = (name: string, password = PASSWORD, shown = 'X') =>
        accounts.people.add({ name, password, shown }, NOW);
      expect(await add('ada')).toMatchObject({ ok: false, problems: [{ code: 'accounts.name-taken' }] });
      for (const name of ['A', 'a b', '../x', ''])
        expect(await add(name)).toMatchObject({ ok: false, problems: [{ code: 'accounts.name' }] });
      for (const password of ['short', 'password12345', 'aaaaaaaaaaaaaa', 'carol-and-more', 'x'.repeat(300)]) {
        expect(await add('carol', password)).toMatchObject({
          ok: false,
          problems: [{ code: 'accounts.password-weak' }],
        });
      }
    });

    it('change a password', async () => {
      unwrap(await accounts.people.setPassword(ada, 'another four words here'));
      expect(await accounts.people.verify('ada', PASSWORD)).toBeUndefined();
      expect(await accounts.people.verify('ada', 'another four words here')).toEqual(ada);
    });

    it('keep a device signed in while it is used, and end it when it is not', async () => {
      const token = await accounts.sessions.open(ada.account, 'phone', NOW);
      expect((await accounts.sessions.find(token, minutesOn(1)))?.person).toEqual(ada);
      expect(await accounts.sessions.find(token, minutesOn(150 * DAY))).toBeDefined();
      expect(await accounts.sessions.find(token, minutesOn(340 * DAY))).toBeDefined();
      expect(await accounts.sessions.find(token, minutesOn(541 * DAY))).toBeUndefined();
      for (const wrong of ['', 'x', `${token}x`, token.replace(ada.account, ben.account)])
        expect(await accounts.sessions.find(wrong, minutesOn(1))).toBeUndefined();
    });

    it('sign one device out, or all, or all others', async () => {
      const [phone, laptop, other] = [
        await accounts.sessions.open(ada.account, 'phone', NOW),
        await accounts.sessions.open(ada.account, 'laptop', NOW),
        await accounts.sessions.open(ben.account, 'phone', NOW),
      ];
      const mine = (await accounts.sessions.find(laptop, NOW))!.session;
      expect((await accounts.sessions.of(ada.account, NOW)).map(({ device }) => device).sort()).toEqual([
        'laptop',
        'phone',
      ]);
      await accounts.sessions.closeAll(ada.account, mine.id);
      expect(await accounts.sessions.find(phone, NOW)).toBeUndefined();
      expect(await accounts.sessions.find(laptop, NOW)).toBeDefined();
      await accounts.sessions.close(ada.account, mine.id);
      expect(await accounts.sessions.find(laptop, NOW)).toBeUndefined();
      await accounts.sessions.close(ada.account, '%');
      await accounts.sessions.closeAll(ada.account);
      expect(await accounts.sessions.find(other, NOW)).toBeDefined();
    });

    it('let one more device in by a link, once and soon', async () => {
      const { token } = await accounts.sessions.deviceLink(ada.account, NOW);
      expect(
        await accounts.sessions.useDeviceLink(token.replace(ada.account, ben.account), minutesOn(1)),
      ).toBeUndefined();
      expect(await accounts.sessions.useDeviceLink(token, minutesOn(9))).toBe(ada.account);
      expect(await accounts.sessions.useDeviceLink(token, minutesOn(9))).toBeUndefined();
      const late = await accounts.sessions.deviceLink(ada.account, NOW);
      expect(await accounts.sessions.useDeviceLink(late.token, minutesOn(11))).toBeUndefined();
    });

    it('give roles, and never leave a rig without an owner', async () => {
      expect(await accounts.roles.claim('marigold', ada.account, NOW)).toBe(true);
      expect(await accounts.roles.claim('marigold', ben.account, NOW)).toBe(false);
      expect(await accounts.roles.claim('marigold', ada.account, NOW)).toBe(true);
      expect(await accounts.roles.of('marigold', ben.account)).toBeUndefined();
      expect(await accounts.roles.give('marigold', ben.account, 'helper', ada.account, NOW)).toBe(true);
      expect(await accounts.roles.peopleOf('marigold')).toEqual([
        { ...ada, role: 'owner' },
        { ...ben, role: 'helper' },
      ]);
      expect(await accounts.roles.give('marigold', ada.account, 'reader', ada.account, NOW)).toBe(false);
      expect(await accounts.roles.take('marigold', ada.account)).toBe(false);
      expect(await accounts.roles.give('marigold', ben.account, 'owner', ada.account, NOW)).toBe(true);
      expect(await accounts.roles.take('marigold', ada.account)).toBe(true);
      expect(await accounts.roles.claim('marigold', ada.account, NOW)).toBe(false);
      expect(await accounts.roles.rigsOf(ben.account)).toEqual(new Map([['marigold', 'owner']]));
      expect(await accounts.roles.rigsOf(ada.account)).toEqual(new Map());
    });

    it('of two owners who remove or demote each other at the same moment, one stays', async () => {
      const { roles } = accounts;
      const own = async () => {
        for (const { account } of [ada, ben]) await roles.give('lark', account, 'owner', account, NOW);
      };
      for (let round = 0; round < 40; round++) {
        await own();
        const done = await Promise.all(
          [ada, ben].map(({ account }) =>
            round % 2 ? roles.take('lark', account) : roles.give('lark', account, 'reader', account, NOW),
          ),
        );
        expect(done.filter(Boolean)).toHaveLength(1);
        expect((await roles.peopleOf('lark')).filter(({ role }) => role === 'owner')).toHaveLength(1);
      }
    });

    it('claimed by two at once is one’s', async () => {
      const claims = await Promise.all(
        [ada, ben, ada, ben].map(({ account }) => accounts.roles.claim('wren', account, NOW)),
      );
      expect(new Set([claims[0], claims[1]]).size).toBe(2);
      expect(await accounts.roles.peopleOf('wren')).toHaveLength(1);
    });

    it('make links that end, are of one kind and one rig, and can be taken back', async () => {
      const link = await accounts.links.add(
        'marigold',
        { kind: 'share', role: 'reader', label: 'a buyer', days: 30, by: ada.account },
        NOW,
      );
      expect(await accounts.links.find(link.token, 'share', minutesOn(29 * DAY))).toMatchObject({
        rig: 'marigold',
        role: 'reader',
      });
      expect(await accounts.links.find(link.token, 'share', minutesOn(31 * DAY))).toBeUndefined();
      expect(await accounts.links.find(link.token, 'invite', NOW)).toBeUndefined();
      expect(await accounts.links.find(link.token.replace('marigold', 'wren'), 'share', NOW)).toBeUndefined();
      expect(JSON.stringify(await accounts.links.of('marigold', NOW))).not.toContain(link.token.split('.')[1]);
      expect(await accounts.links.remove('wren', link.id)).toBe(false);
      expect(await accounts.links.remove('marigold', link.id)).toBe(true);
      expect(await accounts.links.find(link.token, 'share', NOW)).toBeUndefined();
    });

    it('make who guesses wait, longer each time, and forget it after a success', async () => {
      const { attempts } = accounts;
      const [here, there] = ['192.0.2.1', '192.0.2.2'];
      let now = Date.parse(NOW);
      for (let i = 0; i < 5; i++) expect(await attempts.begin('ada', here, now)).toBe(0);
      expect(await attempts.begin('ada', here, now)).toBe(60_000);
      expect(await attempts.begin('ben', here, now)).toBe(0);
      expect(await attempts.begin('ada', there, now)).toBe(0);
      now += 60_000;
      expect(await attempts.begin('ada', here, now)).toBe(0);
      expect(await attempts.begin('ada', here, now)).toBe(120_000);
      now += 120_000;
      for (let i = 0; i < 10; i++) now += await attempts.begin('ada', here, now);
      expect(await attempts.begin('ada', here, now)).toBeLessThanOrEqual(15 * 60_000);
      await attempts.succeed('ada', here, now);
      expect(await attempts.begin('ada', here, now)).toBe(0);
      // A household behind one address signs in as often as it likes.
      for (let i = 0; i < 40; i++) {
        expect(await attempts.begin('ada', there, now)).toBe(0);
        await attempts.succeed('ada', there, now);
      }
    });
  });
}
