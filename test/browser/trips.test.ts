import { describe, expect, it } from 'vitest';
import { Terminal } from '../support/terminal.ts';
import { axe, ready, serving } from './support.ts';

const app = serving();

describe('trips', () => {
  it('are planned with a chance in words, told of what they cross, moved, and finished with miles and both odometers', async () => {
    const { page, context, errors } = await app.open({ hash: '#/season' });
    await ready(page);
    await page.getByRole('button', { name: 'Add a trip' }).tap();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Name', { exact: true }).fill('River bend');
    await dialog.getByLabel('Leave').fill('2026-07-10');
    await dialog.getByLabel('Return').fill('2026-07-08');
    await dialog.getByRole('textbox', { name: 'Miles planned' }).fill('120');
    await dialog.getByLabel('Do we go?').selectOption({ label: 'Perhaps, 50 %' });
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog.getByText('a trip returns on the day it leaves, or later').first().waitFor();
    await dialog.getByLabel('Return').fill('2026-07-12');
    await dialog.getByRole('textbox', { name: 'Miles planned' }).fill('-5');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog.getByText('A trip has more than no miles').first().waitFor();
    await dialog.getByRole('textbox', { name: 'Miles planned' }).fill('120');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog.getByText(/Coast is planned .*: the rig can make only one of the two/).waitFor();
    expect(await axe(page)).toEqual([]);
    await dialog.getByRole('button', { name: 'Write it down all the same' }).tap();
    await page.getByText(/^Written: /).waitFor();

    await page.getByRole('button', { name: 'Change River bend' }).tap();
    expect(await dialog.getByLabel('Do we go?').inputValue()).toBe('0.5');
    await dialog.getByLabel('Leave').fill('2026-05-26');
    await dialog.getByLabel('Return').fill('2026-05-28');
    await dialog.getByLabel('Do we go?').selectOption({ label: 'Surely' });
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog.waitFor({ state: 'hidden' });

    // It has left by now: every page says so, and asks whether to go on.
    for (const screen of ['roadside', 'rig', 'go']) {
      await page.evaluate((to) => {
        location.hash = `#/${to}`;
      }, screen);
      await ready(page);
      expect(await page.locator('.head .way').textContent()).toContain('Day 2 of 3');
      expect(await page.getByRole('link', { name: 'Can we go on?' }).count()).toBe(1);
    }
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'We are back' }).tap();
    await dialog.getByLabel('Back', { exact: true }).fill('2026-05-30');
    await dialog.getByRole('textbox', { name: 'Miles driven' }).fill('131');
    await dialog.getByRole('textbox', { name: 'Odometer (if known)', exact: true }).fill('64,251.4');
    await dialog.getByRole('textbox', { name: 'Odometer of the tow vehicle' }).fill('93,000');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await dialog
      .getByText(/is after the day of this entry/)
      .first()
      .waitFor();
    await dialog.getByLabel('Back', { exact: true }).fill('2026-05-27');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: Back from River bend/).waitFor();
    await page.locator('.head .way').waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('a walk-round takes photos of labels, and says codes as they are typed', async () => {
    const { page, context, errors } = await app.open();
    await ready(page);
    const say = async (kind: string, code: string): Promise<string> => {
      const field = page.getByRole('dialog').getByLabel(new RegExp(`^${kind}`));
      await field.fill(code);
      const said = page
        .getByRole('dialog')
        .locator('.grow', { has: page.getByLabel(new RegExp(`^${kind}`)) })
        .locator('small');
      await page.waitForFunction((one) => one?.textContent !== '', await said.elementHandle());
      return (await said.textContent())!;
    };
    // The number that is often worked through with 49 CFR 565.15 (from memory): its check digit is X; then one sign misread.
    await page.getByRole('button', { name: /^Write$/ }).tap();
    await page.getByRole('button', { name: 'A vehicle of the rig' }).tap();
    expect(await say('VIN', '1M8GDM9AXKP042788')).toMatch(/check digit is right/);
    await page.getByRole('dialog').getByLabel(/^VIN/).fill('');
    expect(await say('VIN', '1M8GDM9AXKP042789')).toMatch(/at least one is misread/);
    await page.getByRole('button', { name: 'Leave' }).tap();

    await page.evaluate(() => {
      location.hash = '#/walk/1';
    });
    await ready(page);
    await page.locator('progress[value="1"]').waitFor();
    for (let at = 1; at < 60; at++) {
      if ((await page.locator('main h1').textContent()) === 'Tire') break;
      await page.getByRole('link', { name: /next$/i }).tap();
      await page.locator(`progress[value="${at + 1}"]`).waitFor();
    }
    await page.getByRole('button', { name: 'One more' }).tap();
    // Week 7 of 2021 began on Monday 15 February (ISO 8601 weeks); Load index 117: 1,285 kg, symbol M: 130 km/h (ISO 4000-1, from memory).
    expect(await say('Code', 'DOT 1A2B 0721')).toMatch(/Made in the week from 1[45] Feb 2021/);
    expect(await say('Size', 'ST225/75R15 117M')).toMatch(/2,833 lb.*81 mph/);
    const dialog = page.getByRole('dialog');
    await dialog
      .locator('input[capture=environment]')
      .setInputFiles({ name: 'sidewall.png', mimeType: 'image/png', buffer: PIXEL });
    await dialog.getByText('1 photo: sidewall.png').waitFor();
    await dialog.getByLabel(/^Place/).fill('spare rack');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: /).waitFor();
    await page.evaluate(() => {
      location.hash = '#/logbook';
    });
    await page.locator('.line', { hasText: '1 photo' }).first().tap();
    await page.locator('img.photo').waitFor();
    // Stopped and gone on with: the walk is where it was.
    await page.evaluate(() => {
      location.hash = '#/walk';
    });
    await ready(page);
    expect(await page.locator('main h1').textContent()).toBe('Tire');
    expect(errors).toEqual([]);
    await context.close();
  });
});

/** One grey pixel. */
const PIXEL = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==',
  'base64',
);

describe('a calculation', () => {
  it('is filled from the rig’s own weighing, says from where, and answers with its doubt as the terminal does', async () => {
    const { page, context, errors } = await app.open({ hash: '#/reckon/weigh-three-pass' });
    await ready(page);
    expect(await page.locator('.reckon-columns form').textContent()).toMatch(
      /From the weighing of \d+ \w+ \d{4}, written by/,
    );
    const given = await page.evaluate(() =>
      Object.fromEntries(
        [...document.querySelectorAll<HTMLInputElement>('.reckon-columns form input[inputmode=decimal]')]
          .filter((input) => input.value !== '')
          .map((input) => [
            input.name,
            /[a-z%]/i.test(input.value)
              ? input.value
              : `${input.value} ${document.querySelector<HTMLSelectElement>(`[name="${input.name}#unit"]`)?.value ?? ''}`,
          ]),
      ),
    );
    expect(Object.keys(given).length).toBeGreaterThan(6);
    await page.getByRole('button', { name: 'Reckon' }).tap();
    const answer = page.locator('table.identity').first();
    await answer.waitFor();
    const terminal = new Terminal();
    const told = await terminal.run([
      'calc',
      'weigh-three-pass',
      ...Object.entries(given).map(([name, value]) => `${name}=${value}`),
      '--json',
    ]);
    const { tongue, uncertainty } = told.json() as {
      tongue: { value: number };
      uncertainty: { tongue: { low: { value: number }; high: { value: number } } };
    };
    terminal.clear();
    const us = (value: number): string => Math.round(value).toLocaleString('en-US');
    const row = await answer.locator('tr', { hasText: 'Tongue weight' }).first().textContent();
    expect(row).toContain(`${us(tongue.value)} lb`);
    expect(row).toContain(`${us(uncertainty.tongue.low.value)} lb to ${us(uncertainty.tongue.high.value)} lb`);
    expect(await axe(page)).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });
});
