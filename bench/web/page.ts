/** What every measurement in the browser begins with: a page of its own that notes, from inside, what a person would have seen. */
import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, CDPSession, Page } from 'playwright-core';
import { DESK, TODAY } from '../../test/browser/support.ts';

/** What the page notes about itself, in ms since its navigation began. */
export interface Noted {
  /** A heading of the app is on the screen. */
  shell: number | null;
  /** The judgement is on the screen. */
  judged: number | null;
  /** The first button of the answer was pressed, and what it opens is on the screen. */
  answered: number | null;
  /** Sum of unexpected shifts of what was on the screen already (Layout Instability API). */
  shift: number;
  /** Tasks of the page that took longer than 50 ms (Long Tasks API), each with its start. */
  long: { readonly at: number; readonly ms: number }[];
  /** Longest time from an event to the next paint (Event Timing API; told in steps of 8 ms, and only from 16 ms on). */
  event: number;
  /** Milliseconds between frames while `recording`. */
  frames: number[];
  recording: boolean;
}

declare global {
  interface Window {
    noted: Noted;
  }
}

export interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly tools: CDPSession;
  noted(): Promise<Noted>;
}

/** A page at an address, with nothing kept from others; the processor slowed down so many times for the page and its workers. */
export async function openNoted(
  browser: Browser,
  url: string,
  options: { readonly size?: { width: number; height: number }; readonly slower?: number; readonly hash?: string } = {},
): Promise<Opened> {
  const { size = DESK, slower = 1, hash = '' } = options;
  const context = await browser.newContext({ viewport: size, hasTouch: size.width < 600 });
  await context.addInitScript(() => localStorage.setItem('theme', 'paper'));
  await context.addInitScript({ path: fileURLToPath(new URL('./note.js', import.meta.url)) });
  const page = await context.newPage();
  const tools = await context.newCDPSession(page);
  if (slower > 1) await slow(tools, slower);
  await page.goto(`${url}/?now=${TODAY}${hash}`, { waitUntil: 'commit' });
  return { page, context, tools, noted: () => page.evaluate(() => window.noted) };
}

/** The workers too, from their first line on: they wait for the debugger until they are slowed. */
async function slow(tools: CDPSession, rate: number): Promise<void> {
  await tools.send('Emulation.setCPUThrottlingRate', { rate });
  let id = 0;
  const tell = (sessionId: string, method: string, params: object = {}): Promise<unknown> => {
    id += 1;
    return tools.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method, params }) });
  };
  tools.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
    if (targetInfo.type === 'worker') void tell(sessionId, 'Emulation.setCPUThrottlingRate', { rate });
    void tell(sessionId, 'Runtime.runIfWaitingForDebugger');
  });
  await tools.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: true, flatten: false });
}

/** Waits until what the page notes is so. */
export async function until(opened: Opened, what: keyof Noted): Promise<Noted> {
  await opened.page.waitForFunction((key) => window.noted[key] !== null, what, { timeout: 120_000 });
  return opened.noted();
}

export const middle = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
export const portion = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))] ?? 0;
