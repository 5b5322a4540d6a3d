import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { unwrap } from '../../problem/index.ts';
import type { Accounts, Store } from '../index.ts';
import { eventWords } from './log.ts';
import type { Person } from './people.ts';
import { type LinkKind, LOCAL } from './tables.ts';

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
      const [phone] = [
        await accounts.sessions.open(ada.account, 'phone', NOW),
        await accounts.sessions.deviceLink(ada.account, NOW),
      ];
      unwrap(await accounts.people.setPassword(ada, 'another four words here', { by: ada.account, now: NOW }));
      expect(await accounts.sessions.find(phone, NOW)).toBeUndefined();
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
      expect(await accounts.roles.take('marigold', ada.account, ada.account, NOW)).toBe(false);
      expect(await accounts.roles.give('marigold', ben.account, 'owner', ada.account, NOW)).toBe(true);
      expect(await accounts.roles.take('marigold', ada.account, ben.account, NOW)).toBe(true);
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
            round % 2 ? roles.take('lark', account, account, NOW) : roles.give('lark', account, 'reader', account, NOW),
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

    it('let links and invitations die with the rights of who made them', async () => {
      const { links, roles } = accounts;
      const make = (kind: LinkKind, by: string) =>
        links.add('marigold', { kind, role: 'owner', label: `${kind} of ${by}`, days: 3, by }, NOW);
      const works = async (token: string, kind: LinkKind) => (await links.find(token, kind, NOW)) !== undefined;
      await roles.claim('marigold', ada.account, NOW);
      for (const [round, role] of (['helper', 'reader', null] as const).entries()) {
        await roles.give('marigold', ben.account, 'owner', ada.account, NOW);
        const kinds = ['share', 'invite', 'calendar'] as const;
        const made = await Promise.all(
          kinds.map(async (kind) => [kind, (await make(kind, ben.account)).token] as const),
        );
        const own = (await make('share', ada.account)).token;
        for (const [kind, token] of made) expect(await works(token, kind)).toBe(true);
        if (role === null) await roles.take('marigold', ben.account, ada.account, NOW);
        else await roles.give('marigold', ben.account, role, ada.account, NOW);
        const gone = async () => {
          for (const [kind, token] of made)
            expect([round, kind, await works(token, kind)]).toEqual([round, kind, false]);
        };
        await gone();
        expect((await links.of('marigold', NOW)).filter(({ label }) => label.endsWith(ben.account))).toEqual([]);
        // Made an owner again, their links of then stay dead.
        await roles.give('marigold', ben.account, 'owner', ada.account, NOW);
        await gone();
        expect(await works(own, 'share')).toBe(true);
      }
      // At one's own machine there are no accounts, and its links need nobody's role.
      expect(await works((await make('calendar', LOCAL)).token, 'calendar')).toBe(true);
    });

    it('make one account of an invitation, however many use it at once', async () => {
      await accounts.roles.claim('marigold', ada.account, NOW);
      const invite = () =>
        accounts.links.add('marigold', { kind: 'invite', role: 'helper', label: 'x', days: 3, by: ada.account }, NOW);
      const { token } = await invite();
      const joined = await Promise.all(
        Array.from({ length: 12 }, (_, n) =>
          accounts.join(token, { name: `guest${n}`, shown: `Guest ${n}`, password: PASSWORD }, NOW),
        ),
      );
      expect(joined.filter(({ ok }) => ok)).toHaveLength(1);
      for (const one of joined) if (!one.ok) expect(one.problems[0]!.code).toBe('access.invitation');
      expect(await accounts.people.count()).toBe(3);
      expect(await accounts.roles.peopleOf('marigold')).toHaveLength(2);
      // A name that is taken uses nothing up; who has a role keeps it.
      const second = (await invite()).token;
      expect(await accounts.join(second, { name: 'ben', shown: 'B', password: PASSWORD }, NOW)).toMatchObject({
        ok: false,
        problems: [{ code: 'accounts.name-taken' }],
      });
      expect(await accounts.join(second, ben, NOW)).toMatchObject({ ok: true, value: { role: 'helper', person: ben } });
      const third = (await invite()).token;
      expect(await accounts.join(third, ada, NOW)).toMatchObject({ ok: true, value: { role: 'owner' } });
      expect(await accounts.join(third, ada, NOW)).toMatchObject({ ok: false });
    });

    it('write down who was let in and shut out, by whom and when, in an order that stays', async () => {
      const { links, roles, log, people } = accounts;
      await roles.claim('marigold', ada.account, NOW);
      const link = (kind: LinkKind, label: string) =>
        links.add('marigold', { kind, role: 'helper', label, days: 3, by: ada.account }, NOW);
      const invite = await link('invite', 'for Eve');
      const eve = unwrap(await accounts.join(invite.token, { name: 'eve', shown: 'Eve', password: PASSWORD }, NOW));
      await roles.give('marigold', eve.person.account, 'owner', ada.account, NOW);
      const share = await link('share', 'a buyer');
      await links.remove('marigold', share.id, eve.person.account, NOW);
      unwrap(await people.setPassword(ada, 'another four words here', { by: ada.account, now: NOW }));
      await links.add(
        'marigold',
        { kind: 'share', role: 'reader', label: 'late', days: 3, by: eve.person.account },
        NOW,
      );
      await roles.take('marigold', eve.person.account, ada.account, NOW);
      const told = (await log.of('marigold', 100)).map(eventWords).reverse();
      expect(told).toEqual([
        'Ada began the rig',
        'Ada invited “for Eve” as helper',
        'Eve joined as helper, invited by Ada (“for Eve”)',
        'Ada made Eve owner, who was helper',
        'Ada made a link to look: “a buyer”',
        'Eve took back the link “a buyer”',
        'Ada changed their own password',
        'Eve made a link to look: “late”',
        'The link “late” ended with the rights of Eve, who made it',
        'Ada took Eve off the rig',
      ]);
      expect(await log.of('wren', 100)).toEqual([]);
      expect((await log.of('marigold', 3)).map(({ what }) => what)).toEqual(['removed', 'ended', 'link']);
      expect(JSON.stringify(await log.all(100))).not.toMatch(/scrypt|another four/);
    });

    it('take an account away with everything that let it in, and never the last owner', async () => {
      const { people, roles, sessions, links, log } = accounts;
      await roles.claim('marigold', ada.account, NOW);
      await roles.give('marigold', ben.account, 'owner', ada.account, NOW);
      await roles.claim('wren', ben.account, NOW);
      const phone = await sessions.open(ben.account, 'phone', NOW);
      const device = (await sessions.deviceLink(ben.account, NOW)).token;
      const link = await links.add(
        'marigold',
        { kind: 'share', role: 'reader', label: 'x', days: 3, by: ben.account },
        NOW,
      );
      expect(await people.soleOwnerOf(ben.account)).toEqual(['wren']);
      expect(await people.remove(ben, ada.account, NOW)).toBe(false);
      expect(await people.verify('ben', PASSWORD)).toEqual(ben);
      await roles.give('wren', ada.account, 'owner', ben.account, NOW);
      const before = await people.exportOf(ben, NOW);
      expect(before).toMatchObject({
        person: ben,
        roles: [
          { rig: 'marigold', role: 'owner' },
          { rig: 'wren', role: 'owner' },
        ],
        devices: [{ device: 'phone' }],
        links: [{ rig: 'marigold', label: 'x' }],
      });
      expect(before.log.length).toBeGreaterThan(3);
      expect(JSON.stringify(before)).not.toMatch(/scrypt|[0-9a-f]{64}/);
      expect(await people.remove(ben, ben.account, NOW)).toBe(true);
      expect(await people.verify('ben', PASSWORD)).toBeUndefined();
      expect(await sessions.find(phone, NOW)).toBeUndefined();
      expect(await sessions.useDeviceLink(device, NOW)).toBeUndefined();
      expect(await links.find(link.token, 'share', NOW)).toBeUndefined();
      expect(await roles.rigsOf(ben.account)).toEqual(new Map());
      expect((await log.of('marigold', 1)).map(eventWords)).toEqual(['Ben deleted their own account']);
      // The name is free again, and whoever takes it is somebody else.
      const again = unwrap(await people.add({ name: 'ben', shown: 'Ben', password: PASSWORD }, NOW));
      expect(again.account).not.toBe(ben.account);
      expect(await roles.of('marigold', again.account)).toBeUndefined();
    });

    it('of two last owners who delete their accounts at once, one stays', async () => {
      const { roles, people } = accounts;
      for (const person of [ada, ben]) await roles.give('lark', person.account, 'owner', person.account, NOW);
      const done = await Promise.all([ada, ben].map((person) => people.remove(person, person.account, NOW)));
      expect(done.filter(Boolean)).toHaveLength(1);
      expect((await roles.peopleOf('lark')).filter(({ role }) => role === 'owner')).toHaveLength(1);
    });

    it('make links that end, are of one kind and one rig, and can be taken back', async () => {
      await accounts.roles.claim('marigold', ada.account, NOW);
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
      expect(await accounts.links.remove('wren', link.id, ada.account, NOW)).toBe(false);
      expect(await accounts.links.remove('marigold', link.id, ada.account, NOW)).toBe(true);
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
