import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { LOCAL, type Role } from '../../src/store/index.ts';
import { Household, ORIGIN, PASSWORD } from '../support/household.ts';
import { entryNumber, idNumber, pngNumber } from '../support/keeping.ts';
import { pick, Sampler, seeded } from '../support/sampler.ts';
import { bodyOf } from '../support/serving.ts';

const REQUESTS = Number(process.env.FUZZ_REQUESTS ?? 50_000);
const AT_ONCE = 25;
/** Another seed, another fifty thousand. */
const SEED = Number(process.env.FUZZ_SEED ?? 20260612);
const NOW = '2026-06-12T08:30:00.000Z';

type Json = Record<string, unknown>;
interface Operation {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  readonly path: string;
  readonly operationId: string;
  readonly parameters: readonly { name: string; in: string; schema: Json }[];
  readonly requestBody?: { content: Record<string, { schema: Json }> };
  readonly responses: Record<string, { content?: Record<string, { schema: Json }> }>;
}

/** Words found only in one rig's logbook. */
const CANARY = { marigold: 'heliotrope-only-here', wren: 'saxifrage-only-here' };
/** These work out much from the whole logbook; a few of them are enough. */
const HEAVY = new Set(['readOutlook', 'readPlan', 'readSendOff', 'readArchive', 'readThumbnail']);
/** These take away what the others need; put right again every thousand requests. */
const DESTRUCTIVE = new Set([
  'signOut',
  'signOutEverywhere',
  'signOutDevice',
  'changePassword',
  'removePerson',
  'changeRole',
  'revokeLink',
  'deleteAccount',
]);

class Caller {
  cookie = '';
  link = '';
  constructor(
    readonly name: string,
    readonly rig: keyof typeof CANARY | null,
    readonly role: Role | null,
  ) {}
}

class Fuzz {
  readonly house: Household;
  readonly callers = [
    new Caller('ada', 'marigold', 'owner'),
    new Caller('ben', 'marigold', 'helper'),
    new Caller('cleo', 'marigold', 'reader'),
    new Caller('dora', 'wren', 'owner'),
    new Caller('buyer', 'marigold', null),
    new Caller('stranger', null, null),
  ];
  operations: Operation[] = [];
  sampler!: Sampler;
  readonly random = seeded(SEED);
  readonly validate = new Map<string, (value: unknown) => boolean>();
  readonly statuses = new Map<number, number>();
  /** One of each kind, by operation. */
  readonly found = new Map<string, string>();
  slowestMs = 0;
  /** Answers in which somebody saw the words of their own rig: the check for leaks can fail. */
  seenOwn = 0;

  constructor(house: Household) {
    this.house = house;
  }

  async prepare(): Promise<void> {
    const { json } = await this.house.browser().ask('GET', '/api/openapi.json');
    this.operations = Object.entries(json.paths as Record<string, Record<string, Json>>).flatMap(([path, methods]) =>
      Object.entries(methods).map(
        ([method, one]) => ({ ...one, path, method: method.toUpperCase() }) as unknown as Operation,
      ),
    );
    const ajv = new Ajv2020({ strict: false, validateFormats: false });
    ajv.addSchema({ ...json, $id: 'api' }, 'api');
    for (const { operationId, path, method } of this.operations) {
      const at = `api#/paths/${encodeURIComponent(path.replaceAll('~', '~0').replaceAll('/', '~1'))}/${method.toLowerCase()}/responses/200/content/application~1json/schema`;
      const known = this.operations.find((one) => one.operationId === operationId)!.responses['200']?.content?.[
        'application/json'
      ];
      if (known) this.validate.set(operationId, ajv.compile({ $ref: at }));
    }
    for (const [rig, word] of Object.entries(CANARY)) {
      const entries = [5, 6, 7].map((n) => entryNumber(n, rig, `${word} ${n}`));
      const odometer = {
        ...entryNumber(8, rig),
        kind: 'reading',
        body: { vehicle: 'trailer', what: 'odometer', value: { value: 900, unit: 'mi' } },
      } as Entry;
      await this.house.server.store.append([...entries, odometer], { via: 'a test' });
    }
    const blob = await this.house.server.store.putBlob('marigold', pngNumber(1));
    await this.repair();
    this.sampler = new Sampler(this.random, json.components.schemas, [
      'marigold',
      'wren',
      'juniper',
      'spare',
      'spare-tire',
      'pressure-cold',
      '2026-06-10',
      '2026-05-01',
      NOW,
      '50 psi',
      '1,000.5 mi',
      '12 °C',
      'ada',
      'dora',
      PASSWORD,
      idNumber(1),
      idNumber(5),
      idNumber(77),
      'a text',
      'reader',
      'true',
      '1',
      blob.ok ? blob.value.hash : '',
      'a'.repeat(12),
      'a'.repeat(16),
      this.callers[4]!.link,
    ]);
  }

  /** Everybody is signed in again and has their role. */
  async repair(): Promise<void> {
    const { people, roles, sessions, links } = this.house.server.store.accounts;
    for (const caller of this.callers) {
      if (caller.rig && caller.role) {
        const person =
          (await people.byName(caller.name)) ??
          unwrap(await people.add({ name: caller.name, shown: caller.name, password: PASSWORD }, NOW));
        await roles.give(caller.rig, person.account, caller.role, person.account, NOW);
        for (const rig of await roles.rigsOf(person.account))
          if (rig[0] in CANARY && rig[0] !== caller.rig) await roles.take(rig[0], person.account, LOCAL, NOW);
        caller.cookie = `__Host-session=${await sessions.open(person.account, 'fuzz', NOW)}`;
      } else if (caller.rig) {
        caller.link = (
          await links.add(caller.rig, { kind: 'share', role: 'reader', label: 'fuzz', days: 9, by: LOCAL }, NOW)
        ).token;
      }
    }
  }

  choose(): Operation {
    for (;;) {
      const operation = pick(this.random, this.operations);
      if (HEAVY.has(operation.operationId) && this.random() > 0.05) continue;
      if (DESTRUCTIVE.has(operation.operationId) && this.random() > 0.05) continue;
      return operation;
    }
  }

  async one(): Promise<void> {
    const { random } = this;
    const operation = this.choose();
    const caller = pick(random, this.callers);
    const rig = random() < 0.6 && caller.rig ? caller.rig : pick(random, ['marigold', 'wren', 'juniper']);
    const url = this.#url(operation, rig);
    const { body, type } = this.#body(operation, rig);
    const started = performance.now();
    const answer = await this.house.server.app.inject({
      payloadAsStream: true,
      method: operation.method,
      url,
      headers: {
        host: 'rig.example',
        origin: ORIGIN,
        'x-forwarded-for': `198.51.100.${Math.floor(random() * 250)}`,
        ...(caller.cookie ? { cookie: caller.cookie } : {}),
        ...(caller.link ? { 'x-rig-link': caller.link } : {}),
        ...(body === undefined ? {} : { 'content-type': type }),
        ...(random() < 0.02 ? { 'if-none-match': pick(random, ['*', '"', 'W/"x"', '\u00ff']) } : {}),
        ...(random() < 0.02
          ? {
              [pick(random, ['cookie', 'x-rig-link', 'content-type', 'accept'])]: String(
                pick(random, ['', '=', 'marigold.', 'x'.repeat(4000), ';;;;']),
              ),
            }
          : {}),
      },
      ...(body === undefined ? {} : { payload: body }),
    });
    this.slowestMs = Math.max(this.slowestMs, performance.now() - started);
    const { statusCode, headers } = answer;
    const said = await bodyOf(answer.stream(), String(headers['content-type'] ?? ''));
    this.#judge(operation, caller, url, body, { statusCode, headers, body: said.toString('utf8') });
  }

  #url(operation: Operation, rig: string): string {
    const { random, sampler } = this;
    const value = (schema: Json): string =>
      encodeURIComponent(wellFormed(String(random() < 0.15 ? sampler.mutate('') : sampler.sample(schema))));
    let path = operation.path;
    const query: string[] = [];
    for (const { name, in: place, schema } of operation.parameters) {
      const text = name === 'rig' && random() < 0.9 ? rig : value(schema);
      if (place === 'path') path = path.replace(`{${name}}`, text.slice(0, 300));
      else if (random() < 0.5) query.push(`${name}=${text}`);
    }
    if (random() < 0.02) query.push(`${pick(random, ['x', 'limit', 'now', '__proto__'])}=${value({})}`);
    const url = query.length ? `${path}?${query.join('&')}` : path;
    return random() < 0.01
      ? pick(random, [`${url}%`, `${url}/%ff`, `${url}/..%2f`, `${url}%00`, `/${url}`, url.replace('api', 'API')])
      : url;
  }

  #body(operation: Operation, rig: string): { body?: string | Buffer; type: string } {
    const { random, sampler } = this;
    const type = 'application/json';
    const content = operation.requestBody?.content;
    if (!content) return random() < 0.02 ? { body: '{"x":1}', type } : { type };
    if (content['application/octet-stream'])
      return {
        body: random() < 0.5 ? Buffer.from(pngNumber(Math.floor(random() * 9))) : Buffer.from('plain'),
        type: 'image/png',
      };
    let value = sampler.sample(content[type]!.schema);
    if (operation.operationId === 'sendEntries' && random() < 0.5)
      value = {
        entries: [
          entryNumber(Math.floor(random() * 400) + 10, rig),
          ...((value as { entries: unknown[] }).entries ?? []),
        ],
      };
    if (operation.operationId === 'write' && random() < 0.3) value = { drafts: [this.house.reading()] };
    if (random() < 0.6) value = sampler.mutate(value);
    const text = JSON.stringify(value) ?? 'null';
    return { body: random() < 0.05 ? sampler.tear(text) : text, type };
  }

  #judge(
    operation: Operation,
    caller: Caller,
    url: string,
    sent: unknown,
    answer: { statusCode: number; body: string; headers: Record<string, unknown> },
  ): void {
    const { statusCode: status, body } = answer;
    this.statuses.set(status, (this.statuses.get(status) ?? 0) + 1);
    const tell = (what: string): void => {
      const request = `${caller.name} ${operation.method} ${url.slice(0, 300)} ${String(sent).slice(0, 500)}`;
      this.found.set(`${what}, ${operation.operationId}`, `${request} → ${status} ${body.slice(0, 300)}`);
    };
    if (status >= 500) tell('our failure');
    if (status >= 400 && !String(answer.headers['content-type']).includes('application/problem+json'))
      tell('no problem details');
    for (const [rig, word] of Object.entries(CANARY)) {
      if (!body.includes(word)) continue;
      if (rig === caller.rig) this.seenOwn++;
      else tell(`leak of ${rig}`);
    }
    if (/scrypt\$/.test(body)) tell('leak of a password’s hash');
    const validate = this.validate.get(operation.operationId);
    if (status === 200 && validate && !url.includes('%2f') && url.startsWith('/api/') && !validate(JSON.parse(body)))
      tell('not as documented');
  }
}

/** A lone surrogate cannot be put into an address. */
function wellFormed(text: string): string {
  return text.replaceAll(/[\ud800-\udfff]/g, '?');
}

describe(`${REQUESTS} random and broken requests (seed ${SEED})`, () => {
  it('no failure of ours, no hang, no leak of one rig to another’s people, answers as documented', async () => {
    const fuzz = new Fuzz(await Household.start({ requestLimit: false }));
    await fuzz.prepare();
    for (let done = 0; done < REQUESTS; done += AT_ONCE) {
      await Promise.all(Array.from({ length: AT_ONCE }, () => fuzz.one()));
      if (done % 1000 === 0) await fuzz.repair();
    }
    expect([...fuzz.found]).toEqual([]);
    expect(fuzz.house.server.failures).toEqual([]);
    expect(fuzz.slowestMs).toBeLessThan(20_000);
    // It got past the door often enough to mean something.
    const good = [200, 201, 204].reduce((sum, status) => sum + (fuzz.statuses.get(status) ?? 0), 0);
    expect(good).toBeGreaterThan(REQUESTS / 20);
    expect(fuzz.seenOwn).toBeGreaterThan(REQUESTS / 1000);
    expect(fuzz.statuses.get(429) ?? 0).toBeLessThan(REQUESTS / 20);
    expect((await fuzz.house.server.store.check()).problems).toEqual([]);
    await fuzz.house.stop();
  }, 600_000);
});
