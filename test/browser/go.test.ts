import { describe, expect, it } from 'vitest';
import { axe, DESK, ready, serving } from './support.ts';

const app = serving();

describe('Can we go?', () => {
  it('says what stops the next trip, with its evidence, and a sentence written at the bottom changes it', async () => {
    const { page, context, errors } = await app.open();
    await ready(page);
    expect(await page.locator('main h1').textContent()).toMatch(/^Not yet\./);
    expect(await page.getByRole('img', { name: 'Hold' }).count()).toBe(1);
    const spare = page.locator('.finding', { hasText: 'pressure of the spare' });
    await spare.getByRole('button', { name: /^why/ }).tap();
    await spare.getByText('Evidence').waitFor();
    expect(await spare.locator('.why-in').textContent()).toMatch(/38 psi.*Evidence.*May 2026/s);

    await page.getByLabel('What was read or done').fill('spare 65 psi, 18 C');
    await page.getByRole('button', { name: 'Write', exact: true }).tap();
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: .*65 psi/).waitFor();
    await page.waitForFunction(() => !document.body.textContent?.includes('pressure of the spare: rear'));
    await page.getByRole('button', { name: 'Undo' }).tap();
    await spare.waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('says what it does not understand, beside the line', async () => {
    const { page, context } = await app.open();
    await ready(page);
    await page.getByLabel('What was read or done').fill('spare quux 41 psi');
    await page.keyboard.press('Enter');
    expect(await page.locator('.write .problems').textContent()).toMatch(/quux.*Expected/s);
    await context.close();
  });

  it('takes a stop overruled with a reason, and shows it as overruled', async () => {
    const { page, context } = await app.open({ size: DESK });
    await ready(page);
    const stop = page
      .locator('section', { has: page.getByRole('heading', { name: 'What stops us' }) })
      .locator('.finding')
      .first();
    const title = (await stop.locator('h3').textContent())!;
    await stop.getByRole('button', { name: /^why/ }).click();
    await stop.getByRole('button', { name: 'Overrule for this trip' }).click();
    await stop.getByLabel('Why do you go all the same?').fill('Looked at it by hand, it is sound');
    await stop.getByRole('button', { name: 'Overrule, and write it down' }).click();
    const overruled = page.locator('section', { has: page.getByRole('heading', { name: 'Overruled for this trip' }) });
    await overruled.getByRole('heading', { name: title }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await overruled.waitFor({ state: 'detached' });
    await context.close();
  });

  it('works without a network from a cold start, and sends what was written when it is back', async () => {
    const { page, context } = await app.open();
    await ready(page);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    await page.getByLabel('What was read or done').fill('spare 66 psi, 18 C');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText('1 to send').waitFor();
    await context.setOffline(false);
    await page.getByText('1 to send').waitFor({ state: 'detached', timeout: 30_000 });
    const { rigs } = (await (await fetch(`${app.url}/api/rigs`)).json()) as { rigs: { entries: number }[] };
    expect(rigs[0]!.entries).toBeGreaterThan(0);
    await context.close();
  });

  it('has nothing that axe objects to, its reasons opened', async () => {
    const { page, context } = await app.open({ theme: 'night', size: DESK });
    await ready(page);
    await page.getByRole('button', { name: /^why/ }).first().click();
    expect(await axe(page)).toEqual([]);
    await context.close();
  });
});
