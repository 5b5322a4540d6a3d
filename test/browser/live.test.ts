import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ready, serving } from './support.ts';

const app = serving();

async function write(page: Page, text: string): Promise<void> {
  await page.getByLabel('What was read or done').fill(text);
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.getByText(/^Written: /).waitFor();
}
const lineWith = (page: Page, text: string) => page.locator('.line-text', { hasText: text });

describe('what another device writes', () => {
  it('is here within two seconds, by itself; and again after the network was away', async () => {
    const [a, b] = [await app.open(), await app.open({ hash: '#/logbook' })];
    await Promise.all([ready(a.page), ready(b.page)]);
    await write(a.page, 'odometer 64301');
    await lineWith(b.page, 'odometer 64,301').waitFor({ timeout: 2000 });

    await b.context.setOffline(true);
    await write(a.page, 'odometer 64302');
    await b.context.setOffline(false);
    await lineWith(b.page, 'odometer 64,302').waitFor({ timeout: 20_000 });
    await write(a.page, 'odometer 64303');
    await lineWith(b.page, 'odometer 64,303').waitFor({ timeout: 2000 });
    expect([...a.errors, ...b.errors]).toEqual([]);
    await a.context.close();
    await b.context.close();
  });

  it('reaches every window of a browser by one channel, and the next one takes it over', async () => {
    const a = await app.open();
    const b = await app.open({ hash: '#/logbook' });
    await Promise.all([ready(a.page), ready(b.page)]);
    const second = await b.context.newPage();
    await second.goto(`${app.url}/?now=2026-05-27#/logbook`);
    await ready(second);
    await write(a.page, 'odometer 64304');
    await lineWith(b.page, 'odometer 64,304').waitFor({ timeout: 2000 });
    await lineWith(second, 'odometer 64,304').waitFor({ timeout: 2000 });
    await b.page.close();
    // The lock goes over with the window; from then on the second hears for itself.
    await new Promise((later) => setTimeout(later, 1000));
    await write(a.page, 'odometer 64305');
    await lineWith(second, 'odometer 64,305').waitFor({ timeout: 2000 });
    await a.context.close();
    await b.context.close();
  });

  it('comes by asking where the channel is barred', async () => {
    const a = await app.open();
    const b = await app.open();
    await b.context.route('**/changes', (route) => route.abort());
    await b.page.goto(`${app.url}/?now=2026-05-27#/logbook`);
    await Promise.all([ready(a.page), ready(b.page)]);
    await write(a.page, 'odometer 64306');
    await lineWith(b.page, 'odometer 64,306').waitFor({ timeout: 20_000 });
    await a.context.close();
    await b.context.close();
  });
});
