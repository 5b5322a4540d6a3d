/** What is done in the browser while it is watched, one function a question of `bench/web.ts`. */
import type { Browser } from 'playwright-core';
import { DESK, PHONE } from '../../test/browser/support.ts';
import { middle, type Noted, openNoted, portion, until } from './page.ts';

const settle = async (page: { waitForFunction(fn: () => unknown): Promise<unknown> }): Promise<void> => {
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
};

export interface Start {
  readonly cold: number;
  readonly warm: number;
  readonly shift: number;
  readonly longest: number;
}

const longest = ({ long }: Noted): number => Math.max(0, ...long.map(({ ms }) => ms));

/** From nothing on the device, and again from the device alone with the network off: until a button of the judgement has answered. */
export async function start(browser: Browser, url: string, times: number, slower = 1): Promise<Start> {
  const runs: Start[] = [];
  for (let n = 0; n < times; n++) {
    const opened = await openNoted(browser, url, { size: slower > 1 ? PHONE : DESK, slower });
    const cold = await until(opened, 'answered');
    await settle(opened.page);
    await opened.context.setOffline(true);
    await opened.page.reload({ waitUntil: 'commit' });
    const warm = await until(opened, 'answered');
    runs.push({ cold: cold.answered!, warm: warm.answered!, shift: cold.shift, longest: longest(cold) });
    await opened.context.close();
  }
  const each = (of: (run: Start) => number): number => middle(runs.map(of));
  return {
    cold: each((run) => run.cold),
    warm: each((run) => run.warm),
    shift: Math.max(...runs.map((run) => run.shift)),
    longest: each((run) => run.longest),
  };
}

export interface Frames {
  readonly p50: number;
  readonly p95: number;
  /** Frames that took the time of two or more, of a hundred. */
  readonly dropped: number;
}

export const framesOf = (frames: readonly number[]): Frames => ({
  p50: portion(frames, 0.5),
  p95: portion(frames, 0.95),
  dropped: (100 * frames.filter((ms) => ms > 25).length) / Math.max(1, frames.length),
});

/** The logbook, scrolled by the wheel for some seconds; a page of plain text of the same height beside it, for the machine's own frames. */
export async function scroll(browser: Browser, url: string, plain: boolean): Promise<Frames> {
  const opened = await openNoted(browser, url, { hash: '#/logbook' });
  const { page } = opened;
  await page.locator('.line').first().waitFor({ timeout: 120_000 });
  if (plain)
    await page.evaluate(() => {
      document.body.innerHTML = '<div style="height: 2000000px; background: linear-gradient(white, gray)"></div>';
    });
  await page.mouse.move(600, 400);
  await page.evaluate(() => {
    window.noted.frames.length = 0;
    window.noted.recording = true;
  });
  for (let n = 0; n < 120; n++) {
    await page.mouse.wheel(0, 260);
    await page.waitForTimeout(16);
  }
  const { frames } = await opened.noted();
  await opened.context.close();
  return framesOf(frames);
}

export interface Season {
  readonly plan: number;
  readonly drag: number;
  readonly event: number;
  readonly moved: Frames;
}

/** The season: planned, and a job taken up and dragged over the line while every day's price is worked out. */
export async function season(browser: Browser, url: string): Promise<Season> {
  const opened = await openNoted(browser, url, { hash: '#/season' });
  const { page } = opened;
  await page.locator('.grip').first().waitFor({ timeout: 180_000 });
  const planned = await opened.noted();
  await page.evaluate(() => {
    Object.assign(window.noted, { long: [], event: 0, frames: [], recording: true });
  });
  await page.locator('.grip').first().scrollIntoViewIfNeeded();
  const grip = (await page.locator('.grip').first().boundingBox())!;
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  for (let n = 0; n < 90; n++) {
    await page.mouse.move(200 + ((n * 11) % 900), 300 + (n % 7));
    await page.waitForTimeout(16);
  }
  if ((await page.locator('.line-box.sticky').count()) === 0)
    throw new Error('The job was not taken up: nothing was measured.');
  const dragged = await opened.noted();
  await page.mouse.up();
  await opened.context.close();
  return { plan: longest(planned), drag: longest(dragged), event: dragged.event, moved: framesOf(dragged.frames) };
}

export interface Rig {
  /** From the address to the last of the parts on the screen. */
  readonly open: number;
  /** From a letter to the list that it leaves. */
  readonly filter: number;
  readonly find: number;
}

/** Five hundred parts opened and filtered, and words found in twenty thousand entries: the middle of several. */
export async function rig(browser: Browser, url: string): Promise<Rig> {
  const opened = await openNoted(browser, url);
  const { page } = opened;
  await until(opened, 'answered');
  const timed = (code: string): Promise<number> => page.evaluate(code) as Promise<number>;
  const open = await timed(`new Promise((done) => {
    const begun = performance.now();
    location.hash = '#/rig';
    const look = () => document.querySelectorAll('.part-row').length > 100
      ? setTimeout(() => done(performance.now() - begun)) : requestAnimationFrame(look);
    look();
  })`);
  const typed = (field: string, text: string, over: string): Promise<number> =>
    timed(`new Promise((done) => {
      const input = document.querySelector('${field}');
      const begun = performance.now();
      input.value = '${text}';
      input.dispatchEvent(new Event('input', { bubbles: true }));
      const look = () => ${over} ? setTimeout(() => done(performance.now() - begun)) : requestAnimationFrame(look);
      requestAnimationFrame(look);
    })`);
  const filters: number[] = [];
  for (const word of ['hinge', 'light', 'battery', 'window', 'alarm']) {
    filters.push(await typed('.rig-find input', word, `document.querySelector('.rig-find p').textContent !== ''`));
    await typed('.rig-find input', '', `document.querySelector('.rig-find p').textContent === ''`);
  }
  await page.evaluate(() => {
    location.hash = '#/logbook';
  });
  await page.locator('.line').first().waitFor();
  const finds: number[] = [];
  for (const word of ['bearings', 'alarm', 'lakes', 'battery', 'zzz']) {
    finds.push(
      await typed('.logbook-find input', word, `!/^20,0/.test(document.querySelector('.logbook-head p').textContent)`),
    );
    await typed('.logbook-find input', '', `/^20,0/.test(document.querySelector('.logbook-head p').textContent)`);
  }
  await opened.context.close();
  return { open, filter: middle(filters), find: middle(finds) };
}

/** Megabytes of script memory held by the page and by its workers, after a collection, once the screens have been gone through. */
export async function memory(browser: Browser, url: string): Promise<{ page: number; workers: number[] }> {
  const opened = await openNoted(browser, url);
  const { page, tools } = opened;
  await until(opened, 'answered');
  for (const screen of ['rig', 'logbook', 'scale', 'roadside', 'go']) {
    await page.evaluate((to) => {
      location.hash = `#/${to}`;
    }, screen);
    await page.waitForTimeout(400);
  }
  await tools.send('HeapProfiler.collectGarbage');
  const { usedSize } = await tools.send('Runtime.getHeapUsage');
  const workers: number[] = [];
  const told = new Promise<void>((done) => {
    tools.on('Target.receivedMessageFromTarget', ({ message }) => {
      const { id, result } = JSON.parse(message) as { id?: number; result?: { usedSize?: number } };
      if (id !== 2) return;
      workers.push((result?.usedSize ?? 0) / 2 ** 20);
      done();
    });
  });
  tools.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
    if (targetInfo.type !== 'worker') return;
    for (const [id, method] of [
      [1, 'HeapProfiler.collectGarbage'],
      [2, 'Runtime.getHeapUsage'],
    ] as const)
      void tools.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method }) });
  });
  await tools.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
  await Promise.race([told, page.waitForTimeout(10_000)]);
  await opened.context.close();
  return { page: usedSize / 2 ** 20, workers };
}
