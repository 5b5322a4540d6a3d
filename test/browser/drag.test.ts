import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axe, DESK, ready, serving } from './support.ts';

const app = serving();

/** Tasks of the main thread over 50 ms (W3C Long Tasks), from now on. */
async function watchTasks(page: Page): Promise<() => Promise<number[]>> {
  await page.evaluate(() => {
    const seen: number[] = [];
    Object.assign(window, { longTasks: seen });
    new PerformanceObserver((list) => seen.push(...list.getEntries().map((entry) => entry.duration))).observe({
      type: 'longtask',
    });
  });
  return () => page.evaluate(() => (window as unknown as { longTasks: number[] }).longTasks);
}

interface Hand {
  down(x: number, y: number): Promise<void>;
  move(x: number, y: number): Promise<void>;
  up(): Promise<void>;
}
const mouseOf = ({ mouse }: Page): Hand => ({
  down: async (x, y) => {
    await mouse.move(x, y);
    await mouse.down();
  },
  move: (x, y) => mouse.move(x, y),
  up: () => mouse.up(),
});
/** A finger, by the protocol of the browser itself: its touch screen only taps. */
const fingerOf = (cdp: CDPSession): Hand => {
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', at: { x: number; y: number }[]) =>
    cdp.send('Input.dispatchTouchEvent', { type, touchPoints: at }).then(() => undefined);
  return {
    down: (x, y) => send('touchStart', [{ x, y }]),
    move: (x, y) => send('touchMove', [{ x, y }]),
    up: () => send('touchEnd', []),
  };
};

/** The first job's handle taken over the line, some way to the right; the prices seen on the way. */
async function dragOver(page: Page, hand: Hand): Promise<string[]> {
  const grip = page.locator('.grip').first();
  await grip.evaluate((handle) => handle.scrollIntoView({ block: 'center' }));
  const from = (await grip.boundingBox())!;
  await hand.down(from.x + from.width / 2, from.y + from.height / 2);
  await hand.move(from.x + from.width / 2 - 20, from.y - 20);
  await page.locator('.move-panel.dragged').waitFor();
  const prices: string[] = [];
  for (const share of [0.5, 0.42, 0.34, 0.26, 0.2]) {
    const line = (await page.locator('[data-line] svg').boundingBox())!;
    await hand.move(line.x + line.width * share, line.y + line.height / 2);
    await page.waitForTimeout(60);
    prices.push((await page.locator('.price').textContent())!);
  }
  return prices;
}
const title = (page: Page) => page.locator('.jobs > li').first().locator('.job-line > div').textContent();

describe('a job dragged to another day', () => {
  it.each([
    ['by touch', true],
    ['by mouse', false],
  ])('%s: each day says its price at once, let go it waits for a yes, and the page never stops', async (_, touch) => {
    const { page, context, errors } = await app.open({
      ...(touch ? {} : { size: DESK }),
      hash: '#/season',
    });
    await ready(page);
    const hand = touch ? fingerOf(await context.newCDPSession(page)) : mouseOf(page);
    const tasks = await watchTasks(page);
    const prices = await dragOver(page, hand);
    expect(new Set(prices).size).toBeGreaterThan(2);
    for (const price of prices)
      expect(price).toMatch(/\$[\d,]+ (more|less)|costs the same|planned (here|anew)|as planned/);
    expect(prices.filter((price) => price.includes('$')).length).toBeGreaterThan(0);
    await hand.up();
    await page.locator('.move-panel:not(.dragged)').waitFor();
    expect(await page.locator('.price').getAttribute('aria-live')).toBe('polite');
    // The whole plan made anew round it, in the worker.
    await page.waitForFunction(
      () => /eighteen months|costs the same|cannot hold/.test(document.querySelector('.price')?.textContent ?? ''),
      null,
      { timeout: 60_000 },
    );
    const long = await tasks();
    // 50 ms where nothing else runs; a plan made on the page's own thread would take ten times as long as this.
    expect(long.filter((ms) => ms > 150)).toEqual([]);
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Leave it where it is' }).click();
    await page.locator('.move-panel').waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('is left where it was by Escape, during the drag and after, with the focus back on its handle', async () => {
    const { page, context } = await app.open({ size: DESK, hash: '#/season' });
    await ready(page);
    const before = await title(page);
    await dragOver(page, mouseOf(page));
    await page.keyboard.press('Escape');
    await page.locator('.move-panel').waitFor({ state: 'detached' });
    await page.getByText(/^Left where it is/).waitFor();
    await page.mouse.up();
    expect(await page.evaluate(() => document.activeElement?.className)).toContain('grip');
    await page.keyboard.press('Enter');
    await page.locator('.move-panel').waitFor();
    await page.waitForFunction(() => document.activeElement?.tagName === 'SELECT');
    await page.keyboard.press('Escape');
    await page.locator('.move-panel').waitFor({ state: 'detached' });
    expect(await page.evaluate(() => document.activeElement?.className)).toContain('grip');
    expect(await title(page)).toBe(before);
    await context.close();
  });
});
