import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { axe, ready, serving } from './support.ts';

const app = serving();

/** The morning of leaving for the Palouse. */
const LEAVING = '2026-06-12';

async function phoneOf(name: string): Promise<{ page: Page; context: BrowserContext; errors: string[] }> {
  const opened = await app.open();
  const { page } = opened;
  await page.goto(`${app.url}/?now=${LEAVING}#/round/palouse-2026`);
  await ready(page);
  await page.getByRole('button', { name: 'Somebody else' }).tap();
  await page.getByLabel('Who holds this phone?').fill(name);
  await page.getByRole('button', { name: 'That’s me' }).tap();
  await page.getByText(`You tick as ${name}.`).waitFor();
  return opened;
}

const rowOf = (page: Page, title: string) => page.locator('.round-row', { hasText: title });
const tick = (page: Page, title: string) => rowOf(page, title).locator('.tick').tap();
const LONG = { timeout: 40_000 };

describe('the round before leaving, by two people on two phones', () => {
  it('each sees what the other ticked; what both ticked offline is ticked once; what one found wrong shows on the other', async () => {
    const [nell, tom] = [await phoneOf('Nell'), await phoneOf('Tom')];
    const before = Number(/(\d+) of \d+ left/.exec((await nell.page.locator('.round-bar').textContent())!)![1]);

    await tick(nell.page, 'Check the coupler');
    await rowOf(nell.page, 'Check the coupler').getByText('done by Nell').waitFor();
    await rowOf(tom.page, 'Check the coupler').getByText('done by Nell').waitFor(LONG);

    // Tom walks out of reach; both go on.
    await tom.context.setOffline(true);
    await tick(tom.page, 'Check chains');
    await tick(nell.page, 'Check chains');
    await tick(tom.page, 'Pull the breakaway pin');
    const lights = rowOf(tom.page, 'Test every light');
    await lights.getByRole('button', { name: /^More on/ }).tap();
    await lights.getByRole('button', { name: 'Something is wrong' }).tap();
    await lights.getByLabel('What is wrong?').fill('left turn signal dark');
    await lights.getByRole('button', { name: 'Write it down' }).tap();
    await lights.getByText('found wrong by Tom: left turn signal dark').waitFor();
    await tom.page.getByText(/\d to send/).waitFor();
    expect(await rowOf(nell.page, 'Pull the breakaway pin').getAttribute('class')).not.toContain('good');

    await tom.context.setOffline(false);
    await rowOf(nell.page, 'Pull the breakaway pin').getByText('done by Tom').waitFor(LONG);
    await rowOf(nell.page, 'Test every light').getByText('found wrong by Tom: left turn signal dark').waitFor(LONG);
    for (const { page } of [nell, tom]) {
      await rowOf(page, 'Check chains')
        .getByText(/done by (Nell and Tom|Tom and Nell)/)
        .waitFor(LONG);
      expect(await rowOf(page, 'Check chains').count()).toBe(1);
      // Coupler, chains and pin are behind them; the lights are not.
      await page.locator('.round-bar', { hasText: `${before - 3} of` }).waitFor(LONG);
    }

    // Nell puts it right and says how; Tom sees a tick.
    const hers = rowOf(nell.page, 'Test every light');
    await hers.locator('.tick').tap();
    await hers.getByLabel('What was put right?').fill('new bulb, lit');
    await hers.getByRole('button', { name: 'It is good now' }).tap();
    await rowOf(tom.page, 'Test every light').getByText('done by Nell').waitFor(LONG);
    // What Tom found stays written.
    await rowOf(tom.page, 'Test every light')
      .getByRole('button', { name: /^More on/ })
      .tap();
    await rowOf(tom.page, 'Test every light').getByText('found wrong, put right since').waitFor();
    expect([...nell.errors, ...tom.errors]).toEqual([]);
    await nell.context.close();
    await tom.context.close();
  });

  it('takes a tick back by Undo, and pressures with the air asked once', async () => {
    const { page, context, errors } = await phoneOf('Nell');
    await tick(page, 'Set the towing mirrors');
    await rowOf(page, 'Set the towing mirrors').getByText('done by Nell').waitFor();
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.waitForFunction(
      () =>
        [...document.querySelectorAll('.round-row')].find((row) => row.textContent?.includes('towing mirrors'))
          ?.className === 'round-row open',
    );
    const left = page
      .locator('section', { has: page.getByRole('heading', { name: /^Left side/ }) })
      .locator('.round-row', { hasText: 'Set the tire pressures cold' });
    await left.locator('.tick').tap();
    await left.getByRole('textbox', { name: 'Cold pressure, axle 1' }).fill('65');
    await left.getByRole('textbox', { name: 'Cold pressure, axle 2' }).fill('65');
    await left.getByRole('textbox', { name: 'Air' }).fill('18 C');
    expect(await axe(page)).toEqual([]);
    await left.getByRole('button', { name: 'Good', exact: true }).tap();
    await left.getByText('done by Nell').waitFor();
    const right = page
      .locator('section', { has: page.getByRole('heading', { name: /^Right side/ }) })
      .locator('.round-row', { hasText: 'Set the tire pressures cold' });
    await right.locator('.tick').tap();
    expect(await right.getByRole('textbox', { name: 'Air' }).inputValue()).toBe('18 C');
    expect(errors).toEqual([]);
    await context.close();
  });
});
