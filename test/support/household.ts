import { unwrap } from '../../src/problem/index.ts';
import type { ServerOptions } from '../../src/server/index.ts';
import type { Role } from '../../src/store/index.ts';
import { newId } from './keeping.ts';
import { fitSpare, TestServer } from './serving.ts';

export const ORIGIN = 'https://rig.example';
export const PASSWORD = 'four words in a row';
const NOW = '2026-06-12T08:30:00.000Z';

/** A browser of somebody signed in. */
export class Browser {
  #cookie = '';

  constructor(
    readonly server: TestServer,
    readonly address = '203.0.113.7',
  ) {}

  async ask(
    method: 'GET' | 'HEAD' | 'POST' | 'PUT' | 'DELETE',
    url: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ) {
    const answer = await this.server.ask(method, url, body, {
      host: 'rig.example',
      ...(method === 'GET' ? {} : { origin: ORIGIN, 'sec-fetch-site': 'same-origin' }),
      ...(this.#cookie ? { cookie: this.#cookie } : {}),
      'x-forwarded-for': this.address,
      ...headers,
    });
    const set = answer.headers['set-cookie'];
    if (typeof set === 'string')
      this.#cookie = /Max-Age=0|Expires=Thu, 01 Jan 1970/.test(set) ? '' : set.split(';')[0]!;
    return answer;
  }

  get cookie(): string {
    return this.#cookie;
  }

  signIn(name: string, password = PASSWORD) {
    return this.ask('POST', '/api/session', { name, password, device: `${name}’s phone` });
  }
}

/** A server for others to reach: Ada owns Marigold, Ben helps, Cleo reads; Dora owns Wren and has no part in Marigold. */
export class Household {
  readonly server: TestServer;

  private constructor(server: TestServer) {
    this.server = server;
  }

  static async start(options: Partial<ServerOptions> = {}): Promise<Household> {
    const server = await TestServer.start({
      ...options,
      access: { kind: 'accounts', origin: ORIGIN, proxy: '127.0.0.1' },
    });
    const { people, roles } = server.store.accounts;
    const given: [string, string, Role][] = [
      ['ada', 'marigold', 'owner'],
      ['ben', 'marigold', 'helper'],
      ['cleo', 'marigold', 'reader'],
      ['dora', 'wren', 'owner'],
    ];
    for (const [name, rig, role] of given) {
      const person = unwrap(
        await people.add({ name, shown: name.charAt(0).toUpperCase() + name.slice(1), password: PASSWORD }, NOW),
      );
      // The first of a rig must be its owner.
      await roles.give(rig, person.account, role, person.account, NOW);
    }
    await server.store.append([fitSpare('marigold', 1), fitSpare('wren', 2)], { via: 'a test' });
    return new Household(server);
  }

  browser(address?: string): Browser {
    return new Browser(this.server, address);
  }

  async as(name: string): Promise<Browser> {
    const browser = this.browser();
    const { status } = await browser.signIn(name);
    if (status !== 200) throw new Error(`${name} cannot sign in: ${status}`);
    return browser;
  }

  /** A good draft for `/write`. */
  reading(): Record<string, unknown> {
    return {
      id: newId(),
      kind: 'reading',
      on: '2026-06-10',
      body: { part: 'spare', what: 'pressure-cold', value: '50 psi' },
    };
  }

  stop(): Promise<void> {
    return this.server.stop();
  }
}
