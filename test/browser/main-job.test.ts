import { describe, expect, it } from 'vitest';
import { go } from './household.ts';
import { DESK, demoText, ready, serving } from './support.ts';

const app = serving();
const empty = serving({ demo: false });

describe('the main job', () => {
  it('by touch on a phone: demo, why, write, move a job, tick off a yard day, finish the trip', async () => {
    const { page, context, errors } = await empty.open();
    await page.getByRole('button', { name: 'Open the demo rig' }).tap();
    await page.locator('.trip-line').waitFor();
    await ready(page);
    const before = (await page.locator('main h1').textContent())!;
    expect(before).toMatch(/^Not yet\./);

    await page.getByLabel('What was read or done').fill('spare 65 psi, 18 C');
    await page.getByRole('button', { name: 'Write', exact: true }).tap();
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.waitForFunction((old) => document.querySelector('main h1')?.textContent !== old, before);

    await page.getByRole('link', { name: 'The season' }).tap();
    await ready(page);
    const day = (await page.locator('.day-head').first().textContent())!;
    const job = page.locator('.jobs > li').first();
    const title = (await job.locator('.job-line > div').textContent())!;
    await job.locator('.grip').tap();
    await page.getByRole('button', { name: 'Later', exact: true }).tap();
    await page.waitForFunction(
      () => /costs|cannot hold/.test(document.querySelector('.price')?.textContent ?? ''),
      null,
      { timeout: 60_000 },
    );
    expect(title.length).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Leave it where it is' }).tap();

    await page
      .getByRole('button', { name: /^Tick off/ })
      .first()
      .tap();
    const ticks = page.getByRole('dialog');
    // Nothing counts as done that was not ticked.
    await ticks.getByRole('button', { name: 'Write it down' }).tap();
    await ticks.getByText('No job is ticked yet.').waitFor();
    await ticks.getByRole('button', { name: 'All of them, and good' }).tap();
    await ticks.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: /).waitFor();
    await page.waitForFunction((old) => document.querySelector('.day-head')?.textContent !== old, day, {
      timeout: 60_000,
    });

    // Wheels were off: their nuts are to be torqued again on the way.
    await page
      .getByRole('button', { name: /on leaving and on the way/ })
      .first()
      .tap();
    expect(await page.locator('.on-the-way').first().textContent()).toMatch(/At 10 mi:.*At 25 mi:.*At 50 mi:/s);

    await page.goto(`${empty.url}/?now=2026-06-22#/season`);
    await ready(page);
    const dialog = page.getByRole('dialog');
    await page.getByRole('button', { name: /^Finish Methow/ }).tap();
    await dialog.getByRole('textbox', { name: 'Miles driven' }).fill('655');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: Back from Methow/).waitFor();
    await page.getByRole('button', { name: /^Finish Methow/ }).waitFor({ state: 'detached', timeout: 60_000 });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('by keyboard alone at a desk: why, write a reading, move a job and put it there', async () => {
    const { page, context, errors } = await app.open({ size: DESK });
    await ready(page);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let n = 0; n < 150; n++) {
        await page.keyboard.press('Tab');
        const text = await page.evaluate(() => {
          const at = document.activeElement as HTMLElement;
          return `${at.getAttribute('aria-label') ?? ''} ${at.textContent}`;
        });
        if (name.test(text)) return;
      }
      throw new Error(`no way by Tab to ${name}`);
    };
    await tabTo(/why.*spare/i);
    await page.keyboard.press('Enter');
    await page.locator('.why-in').first().waitFor();
    await tabTo(/What was read or done/);
    await page.keyboard.type('spare 65 psi, 18 C');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Write it down' }).waitFor();
    await page.waitForFunction(() => document.activeElement?.textContent === 'Write it down');
    await page.keyboard.press('Enter');
    await page.getByText(/^Written: /).waitFor();

    await go(page, 'season');
    await page.waitForFunction(() => document.activeElement?.tagName === 'H1');
    await tabTo(/^Move /);
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => document.activeElement?.tagName === 'SELECT');
    await page.keyboard.press('ArrowDown');
    await page.waitForFunction(() => /costs/.test(document.querySelector('.price')?.textContent ?? ''), null, {
      timeout: 60_000,
    });
    await tabTo(/Put it there/);
    await page.keyboard.press('Enter');
    await page.getByText(/^Moved: /).waitFor();
    await page.waitForFunction(() => document.body.textContent?.includes('put here by you'), null, { timeout: 60_000 });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('two devices writing offline meet again, with nothing lost', async () => {
    const pair = await Promise.all([app.open(), app.open()]);
    for (const [index, { page, context }] of pair.entries()) {
      await ready(page);
      await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
      await context.setOffline(true);
      await page.getByLabel('What was read or done').fill(`odometer ${64200 + index}`);
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: 'Write it down' }).tap();
      await page.getByText('1 to send').waitFor();
    }
    for (const { context } of pair) await context.setOffline(false);
    for (const { page } of pair) {
      await page.getByText('1 to send').waitFor({ state: 'detached', timeout: 40_000 });
      await go(page, 'logbook');
      await page.locator('.line-text', { hasText: 'odometer 64,200 mi' }).waitFor({ timeout: 40_000 });
      await page.locator('.line-text', { hasText: 'odometer 64,201 mi' }).waitFor({ timeout: 40_000 });
    }
    for (const { context } of pair) await context.close();
  });

  it('a new rig by walk-round: what cannot be told stays unproven, and the judgement is an honest hold', async () => {
    const { page, context, errors } = await empty.open();
    await page.getByLabel('What is the trailer called?').fill('Juniper');
    await page.getByRole('button', { name: 'Begin the walk-round' }).tap();
    await page.getByRole('button', { name: 'Write down the trailer' }).tap();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Name', { exact: true }).fill('Juniper');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByRole('button', { name: 'Write down the tow vehicle' }).tap();
    await dialog.getByLabel('Name', { exact: true }).fill('Otter');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Stop 1 of/).waitFor();
    await page.getByRole('link', { name: /Can’t tell now/ }).tap();
    await page.getByText(/^Stop 2 of/).waitFor();
    await go(page, 'go');
    await page.getByRole('button', { name: 'Plan a trip' }).tap();
    await dialog.getByLabel('Name', { exact: true }).fill('River bend');
    await dialog.getByLabel('Leave').fill('2026-06-20');
    await dialog.getByLabel('Return').fill('2026-06-22');
    await dialog.getByRole('textbox', { name: 'Miles planned' }).fill('120');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    expect(await page.locator('main h1').textContent()).toMatch(/^Not yet\..*(unproven|proven)/);
    expect(errors).toEqual([]);
    await context.close();
  });

  it('takes in a logbook whole or not at all, and says which line is wrong', async () => {
    const { page, context } = await empty.open();
    const torn = `${demoText().split('\n').slice(0, 40).join('\n')}\n{"id":"01F1`;
    await page.waitForFunction(() => document.querySelector('main h1'));
    await go(page, 'settings/data');
    const file = page.getByLabel('Logbook file');
    if ((await file.count()) === 0) await page.getByRole('button', { name: 'Another rig, or an import' }).tap();
    await file.setInputFiles({ name: 'torn.jsonl', mimeType: 'application/jsonl', buffer: Buffer.from(torn) });
    expect(await page.locator('.problems').textContent()).toMatch(/not complete JSON.*line 41/s);
    await context.close();
  });
});
