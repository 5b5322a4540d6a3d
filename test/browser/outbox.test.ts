import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { go, nell, news, otis } from './household.ts';
import { axe, DESK, type Opened, serving } from './support.ts';

const app = serving({ accounts: true });
let owner: Opened;
beforeAll(async () => {
  owner = await nell(app, { size: DESK });
});

async function write(page: Page, text: string): Promise<void> {
  await page.getByLabel('What was read or done').fill(text);
  await page.getByRole('button', { name: 'Write', exact: true }).click();
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.getByText(/^Written: /).waitFor();
}

/** What “Save what waits as a file” gives. */
async function saved(page: Page): Promise<string> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save what waits as a file' }).click();
  return readFileSync(await (await download).path(), 'utf8');
}

describe('What waits to be sent', () => {
  it('waits when the server cannot be reached, and goes by itself', async () => {
    const { page, context } = await nell(app, { device: 'phone' });
    await context.setOffline(true);
    await write(page, 'spare 63 psi, 18 C');
    await page.getByRole('link', { name: '1 to send: no server' }).tap();
    await page.getByText('The server cannot be reached').first().waitFor();
    await page.getByRole('main').getByText('63 psi').waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Try now' }).tap();
    await page.getByRole('button', { name: 'Try now' }).waitFor();
    await context.setOffline(false);
    await page.getByRole('heading', { name: 'Nothing waits to be sent' }).waitFor();
    await context.close();
  });

  it('waits as long as the server asks for, says until when, and goes by itself then', async () => {
    const { page, context } = await nell(app, { device: 'phone' });
    let asked = 0;
    const SECONDS = 8;
    await context.route('**/api/rigs/**', (route) => {
      if (route.request().url().endsWith('/changes')) return route.abort();
      asked += 1;
      return route.fulfill({
        status: 429,
        headers: { 'retry-after': String(SECONDS) },
        contentType: 'application/problem+json',
        body: JSON.stringify({ problems: [{ code: 'request.too-many', what: 'Too many requests' }] }),
      });
    });
    const began = Date.now();
    await write(page, 'spare 63 psi, 18 C');
    await page.getByRole('link', { name: '1 to send: server busy' }).tap();
    const text = await page.getByText(/asks for a pause\. .* goes by itself at \d\d:\d\d:\d\d\./).textContent();
    const [, hour, minute, second] = /at (\d\d):(\d\d):(\d\d)/.exec(text!)!.map(Number);
    const told = new Date(began).setHours(hour!, minute, second, 0) - began;
    // At the earliest when the server allows it; in its tenth more, and a second of rounding.
    expect(told).toBeGreaterThan((SECONDS - 1) * 1000);
    expect(told).toBeLessThan(SECONDS * 1100 + 4000);
    expect(await axe(page)).toEqual([]);
    // Asked by whatever else happens, it stays silent.
    const before = asked;
    for (let n = 0; n < 3; n++) await news(page);
    await page.waitForTimeout(500);
    expect(asked).toBe(before);
    await context.unroute('**/api/rigs/**');
    await page.getByRole('heading', { name: 'Nothing waits to be sent' }).waitFor({ timeout: SECONDS * 2000 });
    expect(Date.now() - began).toBeGreaterThan((SECONDS - 1) * 1000);
    await context.close();
  });

  it('is kept and said when a helper is made a reader, on whose device nothing writes any more', async () => {
    const helper = await otis(app, owner.page, { role: 'helper' });
    const { page } = helper;
    await helper.context.setOffline(true);
    await write(page, 'spare 62 psi, 18 C');
    await go(owner.page, 'people');
    await owner.page.reload();
    await owner.page.getByLabel('Role of Otis').selectOption('reader');

    await helper.context.setOffline(false);
    await news(page);
    await page.getByText('You read this rig. Helpers and owners write on it.').waitFor();
    expect(await page.getByLabel('What was read or done').count()).toBe(0);
    for (const to of ['go', 'season', 'rig', 'rig/spare', 'scale', 'logbook']) {
      await go(page, to);
      expect(await page.locator('.writes').count(), to).toBeGreaterThan(0);
      expect(await page.locator('.writes:visible').count(), to).toBe(0);
    }
    await page.getByRole('link', { name: '1 to send: reader' }).tap();
    await page.getByText('You are a reader of this rig now').waitFor();
    expect(await axe(page)).toEqual([]);
    const [entry] = (await saved(page)).trim().split('\n');
    expect(JSON.parse(entry!)).toMatchObject({ kind: 'reading', by: 'Otis', body: { value: { value: 62 } } });
    // Not by the way of his own figures either.
    await go(page, 'settings/time');
    expect(await page.getByRole('button', { name: 'Write the week' }).isDisabled()).toBe(true);

    // Made a helper again, it goes by itself.
    await owner.page.getByLabel('Role of Otis').selectOption('helper');
    await news(page);
    await page.getByLabel('What was read or done').waitFor();
    await page.locator('.outbox').waitFor({ state: 'detached' });
    await news(owner.page);
    await go(owner.page, 'logbook');
    await owner.page.locator('.line', { hasText: '62 psi' }).first().waitFor();
    await helper.context.close();
  });

  it('says which entry the server does not take, and why; struck, it waits no longer', async () => {
    const { page, context } = await nell(app, { device: 'phone' });
    await context.setOffline(true);
    await write(page, 'spare 61 psi, 18 C');
    await page.getByRole('link', { name: /^1 to send/ }).tap();
    const entry = JSON.parse(await saved(page));
    // The same id with other words: somebody else's entry, as far as the server can tell.
    const other = { ...entry, body: { ...entry.body, value: { value: 12, unit: 'psi' } } };
    await owner.page.evaluate(async (one) => {
      await fetch('/api/rigs/marigold/entries', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ entries: [one] }),
      });
    }, other);
    await context.setOffline(false);
    await news(page);
    await page.getByText('The server does not take it.').waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByRole('link', { name: '1 not taken' }).waitFor();
    await page.locator('.outbox-lines a').first().tap();
    await page.getByRole('button', { name: 'Strike it' }).tap();
    await page.getByLabel('Why is it struck?').fill('its number was taken');
    await page.getByRole('button', { name: 'Strike it' }).tap();
    await news(page);
    await page.locator('.outbox').waitFor({ state: 'detached' });
    await context.close();
  });
});
