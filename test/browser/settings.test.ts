import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { go, nell } from './household.ts';
import { axe, DESK, PHONE, ready, serving } from './support.ts';

const app = serving();
const shared = serving({ accounts: true, copies: true });

const BEARINGS = 'Clean, inspect and repack the bearings';

/** The newest line of the logbook, as it is told. */
async function newest(page: Page): Promise<string> {
  await go(page, 'logbook');
  return (await page.locator('.line-text').first().textContent())!;
}

describe('The owner’s own figures', () => {
  it('are questions on one page, each with what was answered', async () => {
    const { page, context } = await app.open({ hash: '#/settings' });
    await page.getByRole('link', { name: /^When can you work at home\?\s*Sat 8 h, Sun 8 h/ }).waitFor();
    // All of them in sight on a phone without scrolling more than one screen.
    const last = await page.locator('.questions li').last().boundingBox();
    expect(last!.y + last!.height).toBeLessThan(2 * PHONE.height);
    await page.getByRole('link', { name: /^How fast, and in which units/ }).tap();
    await page.getByRole('heading', { level: 1, name: 'How fast, and in which units?' }).waitFor();
    await page.getByRole('main').getByRole('link', { name: 'Your own figures' }).tap();
    await page.getByRole('heading', { level: 1, name: 'Your own figures' }).waitFor();
    await context.close();
  });

  it('has hours for each weekday and for a single day; what does not fit is said, and nothing is written', async () => {
    const { page, context, errors } = await app.open({ hash: '#/settings/time' });
    await page.getByLabel('Wednesday').fill('abc');
    await page.getByRole('button', { name: 'Write the week' }).tap();
    await page.getByText('“abc” does not fit. Where: Wednesday. Expected: a number from 0 to 24 hours').waitFor();
    await page.getByLabel('Wednesday').fill('1.5');
    await page.getByRole('button', { name: 'Write the week' }).tap();
    await page.getByText('Written: Free at home: Wednesday 1.5 h, Saturday 8 h, Sunday 8 h').waitFor();
    // Taken back like any entry.
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText('Struck. The logbook keeps both lines.').waitFor();

    await page.getByLabel('Day', { exact: true }).fill('2026-06-06');
    await page.getByLabel('Hours, 0 for none').fill('0');
    await page.getByRole('button', { name: 'Write this day' }).tap();
    await page.getByText('Sat 6 Jun 2026: not at all').waitFor();
    await go(page, 'season');
    expect(await page.locator('.day-head', { hasText: 'Sat 6 Jun' }).count()).toBe(0);
    await go(page, 'settings/time');
    await page.getByRole('button', { name: 'Take back Sat 6 Jun 2026' }).tap();
    await page.getByRole('button', { name: 'Take back Sat 6 Jun 2026' }).waitFor({ state: 'detached' });
    expect(await newest(page)).toBe('Free on 6 Jun 2026: taken back');
    expect(errors).toEqual([]);
    await context.close();
  });

  it('takes money, chances and speed within bounds, and months that have such a day', async () => {
    const { page, context } = await app.open({ hash: '#/settings/worth' });
    const write = async (label: string, text: string): Promise<void> => {
      await page.getByLabel(label, { exact: true }).fill(text);
      await page.getByRole('button', { name: `Write: ${label}` }).tap();
    };
    await write('An hour of your work, in money', 'plenty');
    await page.getByText('“plenty” does not fit. Expected: a number from 0 to 1000.').waitFor();
    expect(await page.getByLabel('An hour of your work, in money', { exact: true }).getAttribute('aria-invalid')).toBe(
      'true',
    );
    await write('An hour of your work, in money', '30');
    await page.getByText('Written: An hour of own work, in money: 30').waitFor();
    await write('Where safety is at stake', '120');
    await page.getByText('“120” does not fit. Expected: a number from 0.1 to 99 %.').waitFor();
    await write('Where safety is at stake', '2.5');
    await page.getByText('Written: Chance accepted of running out on a trip, safety: 2.5 %').waitFor();

    await go(page, 'settings/road');
    await page.getByRole('textbox', { name: 'Fastest on the road' }).fill('600');
    await page.getByRole('button', { name: 'Write the speed' }).tap();
    await page
      .getByText('“600” does not fit. Where: Fastest on the road. Expected: a number from 20 to 90 mph.')
      .waitFor();
    await page.getByRole('textbox', { name: 'Fastest on the road' }).fill('60');
    await page.getByRole('button', { name: 'Write the speed' }).tap();
    await page.getByText('You keep to 60 mph.').waitFor();

    await go(page, 'settings/time');
    await write('First freeze', '02-30');
    await page.getByText('“02-30” is no month and day. Expected: 10-12 for 12 October.').waitFor();
    await write('First freeze', '10-20');
    await page.getByText('Written: First freeze at home: 20 October').waitFor();
    await context.close();
  });

  it('lays the handbook’s figure over ours, asks about one far from every source, and takes it off again', async () => {
    const { page, context, errors } = await app.open({ size: DESK, hash: '#/settings/handbook' });
    await page.getByRole('combobox', { name: 'Upkeep' }).selectOption({ label: BEARINGS });
    await page.getByRole('combobox', { name: 'Which figure' }).selectOption('miles');
    await page.getByText(/^Where you say nothing: every 12,000 mi/).waitFor();
    await page.getByRole('textbox', { name: 'Yours' }).fill('60000');
    await page.getByRole('button', { name: 'Write your figure' }).click();
    await page.getByText('Say where it comes from.').waitFor();
    await page.getByLabel('Where it comes from').fill('Axle handbook, page 14');
    await page.getByRole('button', { name: 'Write your figure' }).click();
    await page.getByText(/That is more than any source here says/).waitFor();
    expect(await axe(page)).toEqual([]);
    // A slip of a digit: mended before it is written.
    await page.getByRole('textbox', { name: 'Yours' }).fill('6,000');
    await page.getByRole('button', { name: 'Write your figure' }).click();
    const line = `${BEARINGS}: every 6,000 mi (Axle handbook, page 14)`;
    await page.getByText(`Written: ${line}`).waitFor();
    await page.getByRole('button', { name: `Take back ${line}` }).waitFor();
    // The outlook goes by it, and says by whose word.
    await go(page, 'rig');
    const bearings = page.locator('main a', { hasText: /bearings/i }).first();
    await bearings.click();
    await ready(page);
    await page
      .getByRole('button', { name: /^why.*repack the bearings/ })
      .first()
      .click();
    await page.getByText('Axle handbook, page 14').first().waitFor();
    await go(page, 'settings/handbook');
    await page.getByRole('button', { name: `Take back ${line}` }).click();
    await page.getByRole('button', { name: `Take back ${line}` }).waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('gives the logbook as a file that puts everything back on a device without a server', async () => {
    const { page, context } = await app.open({ hash: '#/settings/data' });
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export the logbook' }).tap();
    const text = readFileSync(await (await download).path(), 'utf8');
    const lines = text.trim().split('\n').length;
    await page.getByText('This server makes none by itself').waitFor();
    await context.close();

    const fresh = await app.open({ size: DESK });
    // No server answers on this device.
    await fresh.context.route('**/api/**', (route) => route.abort());
    await fresh.page.evaluate(async () => {
      for (const { name } of await indexedDB.databases()) indexedDB.deleteDatabase(name!);
    });
    await fresh.page.goto(`${app.url}/?now=2026-05-27&fresh`);
    await fresh.page.getByLabel('Logbook file').setInputFiles({
      name: 'marigold.jsonl',
      mimeType: 'application/jsonl',
      buffer: Buffer.from(text),
    });
    await fresh.page.getByRole('img', { name: 'Hold' }).waitFor();
    await go(fresh.page, 'logbook');
    await fresh.page.getByText(`${lines.toLocaleString('en-US')} entries, newest first.`).waitFor();
    await go(fresh.page, 'settings/data');
    await fresh.page.getByText('No server can be reached. The file above is your copy until one can.').waitFor();
    await fresh.context.close();
  });

  it('downloads a whole copy from the server, and lists those it made', async () => {
    const { page, context } = await nell(shared, { size: DESK });
    await go(page, 'settings/data');
    await page.getByRole('heading', { name: 'Safe copies at the server' }).waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Download a copy' }).click();
    const file = await download;
    expect(file.suggestedFilename()).toMatch(/^marigold-.*\.zip$/);
    // A ZIP file: its first local header (APPNOTE.TXT 4.3.7).
    expect(readFileSync(await file.path()).subarray(0, 4)).toEqual(Buffer.from([0x50, 0x4b, 3, 4]));
    await page.getByText('None yet: the first is made within a day.').waitFor();
    await shared.copy('2026-05-26T03:00:00.000Z');
    const second = await shared.copy('2026-05-27T03:00:00.000Z');
    writeFileSync(second, 'overwritten by somebody');
    await go(page, 'settings');
    await go(page, 'settings/data');
    const [newest, older] = await page.locator('.copies li').all();
    expect(await newest!.textContent()).toMatch(
      /^27 May 2026, \d\d:\d\d, .*Changed since it was made: do not trust it\.$/,
    );
    expect(await older!.textContent()).toMatch(
      /^26 May 2026, \d\d:\d\d, [\d.]+ [kM]B, \d+ entries of this rig\. Whole: read back when it was made/,
    );
    expect(await axe(page)).toEqual([]);
    await context.close();
  });

  it('has upkeeps that are in no list of ours, told field by field where they do not fit', async () => {
    const { page, context, errors } = await app.open({ hash: '#/settings/handbook' });
    await page.getByText('Add an upkeep that is not in the list').tap();
    await page.getByRole('button', { name: 'Write this upkeep' }).tap();
    await page.getByText('It has no name yet.').waitFor();
    expect(await page.getByLabel('What is to be done').getAttribute('aria-invalid')).toBe('true');
    expect(await axe(page)).toEqual([]);
    await page.getByLabel('What is to be done').fill('Wax the spare’s cover');
    await page.getByLabel('On which kind of part').selectOption('spare-tire');
    await page.getByRole('textbox', { name: 'How often: every' }).fill('6');
    await page.getByLabel('Minutes it takes').fill('20');
    await page.getByLabel('Cost if it fails away').fill('15');
    await page.getByLabel('Where this comes from').fill('My own practice');
    await page.getByRole('button', { name: 'Write this upkeep' }).tap();
    await page.getByText('Written: Own upkeep wax the spare s cover: Wax the spare’s cover').waitFor();
    await go(page, 'rig/spare');
    await page.getByText('Wax the spare’s cover').first().waitFor();
    await go(page, 'settings/handbook');
    await page.getByRole('button', { name: /^Take back Own upkeep wax/ }).tap();
    await page.getByRole('button', { name: /^Take back Own upkeep wax/ }).waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await context.close();
  });

  it('has kinds of part that are in no list of ours: they are walked round, fitted, and have upkeeps of their own', async () => {
    const { page, context, errors } = await app.open({ hash: '#/settings/handbook' });
    await page.getByText('Add a kind of part that is not in the list').tap();
    await page.getByLabel('What it is').fill('Spare tire');
    await page.getByRole('button', { name: 'Write this kind of part' }).tap();
    await page.getByText('The catalog has a kind of part `spare-tire` already').waitFor();
    await page.getByLabel('What it is').fill('Bicycle rack');
    await page.getByLabel('What to look for on it').fill('The rating on its label');
    await page.getByRole('button', { name: 'Write this kind of part' }).tap();
    await page.getByText('Written: Own kind of part bicycle rack: Bicycle rack').waitFor();
    expect(await axe(page)).toEqual([]);

    await go(page, 'logbook');
    await page.getByRole('button', { name: 'Fill in a form' }).tap();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'A part fitted or found' }).tap();
    await dialog.getByLabel('Kind').selectOption({ label: 'Bicycle rack' });
    await dialog.getByText('The rating on its label').waitFor({ state: 'attached' });
    await dialog.getByLabel('Place').fill('rear bumper');
    await dialog.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: .*Bicycle rack/i).waitFor();
    await go(page, 'settings/handbook');
    await page.getByText('Add an upkeep that is not in the list').tap();
    await page.getByLabel('On which kind of part').selectOption({ label: 'Bicycle rack' });
    await go(page, 'rig/bicycle-rack-rear-bumper');
    await page
      .getByRole('heading', { name: /bicycle rack/i })
      .first()
      .waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('can be written by keyboard alone', async () => {
    const { page, context } = await app.open({ size: DESK, hash: '#/settings' });
    await ready(page);
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let n = 0; n < 80; n++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate(() => {
          const here = document.activeElement as HTMLInputElement;
          // Past the last of the page nothing has the focus, and the body's text is everything.
          if (here === document.body) return '';
          const label = here.labels?.[0]?.textContent ?? '';
          return `${here.getAttribute('aria-label') ?? ''} ${label} ${here.textContent}`;
        });
        if (name.test(at)) return;
      }
      throw new Error(`no way by Tab to ${name}`);
    };
    await tabTo(/How fast/);
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => document.activeElement?.tagName === 'H1');
    await tabTo(/Fastest on the road/);
    await page.keyboard.press('Control+a');
    await page.keyboard.type('58');
    await page.keyboard.press('Enter');
    await page.getByText('You keep to 58 mph.').waitFor();
    await context.close();
  });
});
