/** A served rig and a real Chromium, for the tests in the browser and for the pictures of the screens. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { type Entry, readEntries } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { serve } from '../../src/server/index.ts';
import { makeCopy, openStore } from '../../src/store/index.ts';
import { shippedCatalog } from '../support/catalog.ts';

const root = new URL('../../', import.meta.url);
/** The built app: where `npm run build` puts it, or another build that is to be looked at. */
export const WEB_FOLDER = process.env.RIGWORTHY_WEB_FOLDER ?? new URL('dist/web', root).pathname;
/** The day on which the demo's logbook ends. */
export const TODAY = '2026-05-27';
export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1280, height: 800 };
export type Theme = 'paper' | 'night' | 'sun';

export const demoText = (): string => readFileSync(new URL('demo/marigold.jsonl', root), 'utf8');

/** Nell, who owns the demo's rig where a server has accounts. */
export const NELL = { name: 'nell', shown: 'Nell', password: 'oats and barley and rye' };

/** A port that nobody uses now: the address of a server with accounts must be known before it listens. */
async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((ready) => probe.listen(0, '127.0.0.1', ready));
  const { port } = probe.address() as AddressInfo;
  await new Promise((closed) => probe.close(closed));
  return port;
}

/** What is served, and how. */
export interface Served {
  readonly demo?: boolean;
  readonly logbook?: readonly Entry[];
  /** With accounts: Nell's. */
  readonly accounts?: boolean;
  /** Whether the server tells of copies. */
  readonly copies?: boolean;
  readonly webFolder?: string;
}

export interface App {
  readonly url: string;
  readonly port: number;
  /** Makes a copy as the server does by itself, at this instant; where it is. */
  copy(instant: string): Promise<string>;
  close(): Promise<void>;
}

/** The built app served on a free port, with the demo in its store, with another logbook or with nothing. */
export async function serveApp({
  demo = true,
  logbook = demo ? unwrap(readEntries(demoText())) : [],
  accounts = false,
  copies = false,
  webFolder = WEB_FOLDER,
}: Served = {}): Promise<App> {
  if (!existsSync(join(webFolder, 'index.html'))) throw new Error('The app is not built: run `npm run build` first.');
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-web-'));
  const store = unwrap(await openStore({ folder }));
  if (logbook.length > 0) unwrap(await store.append(logbook, { via: 'test' }));
  const catalog = shippedCatalog();
  const port = accounts ? await freePort() : 0;
  const access = { kind: 'accounts', origin: `http://127.0.0.1:${port}` } as const;
  if (accounts) {
    const now = `${TODAY}T12:00:00.000Z`;
    const { account } = unwrap(await store.accounts.people.add(NELL, now));
    await store.accounts.roles.give('marigold', account, 'owner', account, now);
  }
  const copiesFolder = join(folder, 'copies');
  mkdirSync(copiesFolder);
  const options = {
    ...{ store, catalog, clock: Date.now, today: () => TODAY, version: '0', webFolder },
    ...(copies ? { copiesFolder } : {}),
  };
  const listening = unwrap(await serve(accounts ? { ...options, access } : options, { port }));
  return {
    url: listening.url,
    port: Number(new URL(listening.url).port),
    copy: async (instant) => (await makeCopy(store, copiesFolder, Date.parse(instant))).file,
    async close() {
      await listening.close();
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

const BROWSERS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

export function launch(): Promise<Browser> {
  const executablePath = BROWSERS.find((path) => existsSync(path));
  if (executablePath === undefined) throw new Error('No Chromium is installed: `apt-get install chromium`.');
  return chromium.launch({ executablePath, args: ['--no-sandbox'] });
}

export interface PageOptions {
  readonly size?: { width: number; height: number };
  readonly theme?: Theme;
  readonly hash?: string;
}

export interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly errors: string[];
}

/** A page of its own, with nothing kept from others, on the demo's last day. Errors of the page fail the test that looks at `errors`. */
export async function openPage(browser: Browser, url: string, options: PageOptions = {}): Promise<Opened> {
  const { size = PHONE, theme = 'paper', hash = '' } = options;
  const context = await browser.newContext({ viewport: size, hasTouch: size.width < 600, reducedMotion: 'reduce' });
  await context.addInitScript((chosen) => localStorage.setItem('theme', chosen), theme);
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource|ERR_INTERNET_DISCONNECTED/.test(message.text()))
      errors.push(message.text());
  });
  await page.goto(`${url}/?now=${TODAY}${hash}`);
  return { page, context, errors };
}

let launched: Promise<Browser> | undefined;

/** The browser of this file of tests: launched when it is first asked for, closed after the last of them. */
function sharedBrowser(): Promise<Browser> {
  if (launched === undefined) {
    launched = launch();
    afterAll(async () => (await launched)?.close());
  }
  return launched;
}

/** A served app and a browser to look at it with, from before the first test of a file until after its last; nothing of it can be read sooner. */
export function serving(options: Served = {}): Omit<App, 'close'> & {
  readonly browser: Browser;
  /** A page of its own on this app. */
  open(options?: PageOptions): Promise<Opened>;
} {
  const launching = sharedBrowser();
  let app: App;
  let browser: Browser;
  beforeAll(async () => {
    [app, browser] = await Promise.all([serveApp(options), launching]);
  });
  afterAll(() => app?.close());
  return {
    get url() {
      return app.url;
    },
    get port() {
      return app.port;
    },
    get browser() {
      return browser;
    },
    copy: (instant) => app.copy(instant),
    open: (about) => openPage(browser, app.url, about),
  };
}

/** Every page there is for somebody who only looks, by its address. */
export const PAGES_SHOWN = [
  'go',
  'round',
  'season',
  'rig',
  'rig/spare',
  'scale',
  'logbook',
  'roadside',
  'roadside/flat-tire',
  'sheet',
  'sheet/history',
  'reckon',
];

/** Every page there is for the owner. */
export const PAGES = [
  ...PAGES_SHOWN,
  'settings',
  ...['time', 'worth', 'road', 'handbook', 'names', 'data', 'device'].map((topic) => `settings/${topic}`),
  'outbox',
  'walk',
  'reckon/tire-load',
  'spreadsheet',
  'people',
];

/** What axe finds against WCAG 2.2 A and AA, in a line each. */
export async function axe(page: Page): Promise<string[]> {
  // Bars that stay in sight cover what scrolls beneath them at the moment of looking; axe would call that too small to be pressed.
  await page.evaluate(() => {
    for (const bar of document.querySelectorAll<HTMLElement>('.foot, .head, .nav')) bar.style.position = 'static';
  });
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html.slice(0, 160)}`));
}

/** The page has its answer, and nothing newer is being worked out. */
export async function ready(page: Page): Promise<void> {
  await page.waitForFunction(
    () => document.querySelector('main h1') && !document.querySelector('[aria-busy=true]'),
    null,
    { timeout: 60_000 },
  );
}
