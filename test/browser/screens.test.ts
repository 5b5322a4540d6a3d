import { describe, expect, it } from 'vitest';
import { axe, DESK, PAGES, PHONE, ready, serving, type Theme } from './support.ts';

const app = serving();

describe('every screen', () => {
  it.each<[Theme, { width: number; height: number }]>([
    ['paper', DESK],
    ['night', PHONE],
    ['sun', PHONE],
  ])('has nothing that axe objects to, and nothing wider than the page (%s)', async (theme, size) => {
    const { page, context, errors } = await app.open({ theme, size });
    const found: string[] = [];
    for (const screen of PAGES) {
      await page.evaluate((to) => {
        location.hash = `#/${to}`;
      }, screen);
      await ready(page);
      found.push(...(await axe(page)).map((text) => `${screen}: ${text}`));
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (over > 0) found.push(`${screen}: ${over} px wider than the page`);
    }
    expect(found).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });

  it('gives fingers 48 pixels wherever something stands alone to be pressed', async () => {
    const { page, context } = await app.open();
    const small: string[] = [];
    for (const screen of PAGES) {
      await page.evaluate((to) => {
        location.hash = `#/${to}`;
      }, screen);
      await ready(page);
      small.push(
        ...(await page.evaluate(() =>
          [
            ...document.querySelectorAll<HTMLElement>(
              'button, select, input:not([type=checkbox]):not([type=radio]), nav a, summary',
            ),
          ]
            .filter((one) => one.offsetParent !== null && one.getBoundingClientRect().height < 47.5)
            .filter((one) => !one.classList.contains('why') && one.offsetHeight > 0)
            .map((one) => `${location.hash}: ${one.outerHTML.slice(0, 80)}`),
        )),
      );
    }
    expect(small).toEqual([]);
    await context.close();
  });

  it('can be read at 200 % zoom', async () => {
    // A page of 1,280 pixels at 200 % is a page of 640.
    const { page, context } = await app.open({ size: { width: 640, height: 400 } });
    for (const screen of PAGES) {
      await page.evaluate((to) => {
        location.hash = `#/${to}`;
      }, screen);
      await ready(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), screen).toBeLessThanOrEqual(
        0,
      );
    }
    await context.close();
  });
});
