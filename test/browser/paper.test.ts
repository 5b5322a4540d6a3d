import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { axe, DESK, ready, serving, type Theme } from './support.ts';

const app = serving();

const csv = (name: string, text: string) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });

describe('Sheets', () => {
  it.each<[string, Theme]>([
    ['send-off', 'paper'],
    ['yard', 'night'],
    ['season', 'sun'],
    ['roadside', 'night'],
    ['history', 'paper'],
    ['labels', 'sun'],
  ])('draws the %s sheet on the device, with its ink in every theme (%s)', async (sheet, theme) => {
    const { page, context, errors } = await app.open({ theme, hash: `#/sheet/${sheet}` });
    await ready(page);
    const paper = page.locator('.paper');
    await paper.locator('footer').waitFor();
    const foot = (await paper.locator('footer').textContent())!;
    expect(foot).toMatch(/SHA-256 [0-9a-f]{64}/);
    const ink = await paper
      .locator('body')
      .evaluate((body) => [getComputedStyle(body).color, getComputedStyle(body).backgroundColor]);
    expect(ink).toEqual(['rgb(17, 17, 17)', 'rgb(255, 255, 255)']);
    expect(await axe(page)).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });

  it('is the sheet that the server makes, and prints without the page round it', async () => {
    const { page, context } = await app.open({ size: DESK, hash: '#/sheet/history' });
    await ready(page);
    await page.locator('.paper footer').waitFor();
    const mine = (await page.locator('.paper body').textContent())!;
    const served = await (await fetch(`${app.url}/api/rigs/marigold/sheets/history?now=2026-05-27`)).text();
    const theirs = await page.evaluate(
      (html) => new DOMParser().parseFromString(html.replace(/<style>.*?<\/style>/s, ''), 'text/html').body.textContent,
      served,
    );
    const digest = (text: string): string => createHash('sha256').update(text.trim()).digest('hex');
    expect(digest(mine)).toBe(digest(theirs));
    await page.emulateMedia({ media: 'print' });
    for (const part of ['.head', '.foot', '.sheet-bar']) expect(await page.locator(part).isVisible()).toBe(false);
    expect(await page.locator('.paper').isVisible()).toBe(true);
    const pages = await page.evaluate(() =>
      document.adoptedStyleSheets.flatMap((sheet) => [...sheet.cssRules]).map((rule) => rule.cssText),
    );
    expect(pages.join()).toMatch(/@page.*@bottom-left.*logbook [0-9a-f]{12}/s);
    await context.close();
  });
});

describe('A spreadsheet', () => {
  it('is asked about, refused whole with a reason a line, and taken whole; then it can be taken back', async () => {
    const { page, context, errors } = await app.open({ hash: '#/spreadsheet' });
    await ready(page);
    const torn =
      'When,Job,Reading (psi)\n03/04/2025,spare,64\n05/06/2025,frobnicated the quux,\n06/05/2025,repacked axle 1,\n';
    await page.getByLabel('Spreadsheet file').setInputFiles(csv('book.csv', torn));
    const order = page.getByLabel(/^Is “03\/04\/2025” \(line 2\) month\/day\/year or day\/month\/year/);
    await order.selectOption('dmy');
    await page.getByRole('heading', { name: '1 line of 3 cannot be taken' }).waitFor();
    expect(await page.locator('.rejected').textContent()).toMatch(/Line 3.*quux.*Expected/s);
    expect(await page.getByRole('button', { name: /^Write (all|\d)/ }).count()).toBe(0);
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Leave line 3 out' }).tap();
    await page.getByRole('button', { name: 'Write 2 lines' }).waitFor();

    const whole = 'When,Job,Reading (psi)\n2025-04-03,spare,64\n2025-05-06,repacked axle 1,\n';
    await page.getByLabel(/^Another file/).setInputFiles(csv('whole.csv', whole));
    await page.getByRole('button', { name: 'Write all of 2 lines' }).tap();
    await page.getByText('Written: 2 entries from whole.csv').waitFor();
    await page.getByRole('button', { name: 'Undo' }).tap();
    await page.getByText('Struck. The logbook keeps both lines.').waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('goes out; a line brought in twice is written once', async () => {
    const { page, context } = await app.open({ size: DESK, theme: 'night', hash: '#/settings/data' });
    await ready(page);
    const wait = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export as a spreadsheet' }).click();
    const stream = await (await wait).createReadStream();
    let text = '';
    for await (const piece of stream) text += piece;
    expect(text).toMatch(/^date,kind,what,part,value,unit/);
    await page.getByRole('link', { name: 'Bring in a spreadsheet' }).click();
    const twice = 'Day,Job,Reading (psi)\n2025-04-03,spare,64\n';
    for (const round of [1, 2]) {
      await page.getByLabel(/file/i).setInputFiles(csv(`round-${round}.csv`, twice));
      if (round === 1) await page.getByRole('button', { name: 'Write all of 1 line' }).click();
      else expect(await page.getByRole('button', { name: 'Nothing is new' }).isDisabled()).toBe(true);
      if (round === 1) {
        await page.getByText(/^Written: 1 entry/).waitFor();
        await page.evaluate(() => {
          location.hash = '#/spreadsheet';
        });
      }
    }
    await context.close();
  });
});

describe('A trip’s way', () => {
  it('comes from a file into the form: its length, its stops and what they rest on', async () => {
    const { page, context, errors } = await app.open({ hash: '#/season' });
    await ready(page);
    await page.getByRole('button', { name: 'Add a trip' }).tap();
    const file = page.getByLabel(/^Or by a file/);
    await file.setInputFiles({
      name: 'torn.gpx',
      mimeType: 'application/gpx+xml',
      buffer: Buffer.from('<gpx version="1.1">'),
    });
    await page.getByText(/^The file is not whole XML/).waitFor();
    const way = 'Home–Lakeside 142 mi\nLakeside–Home 150.5 mi\n';
    await file.setInputFiles({ name: 'way.txt', mimeType: 'text/plain', buffer: Buffer.from(way) });
    await page.getByText(/^Home to Lakeside 142.0 mi; Lakeside to Home 150.5 mi/).waitFor();
    expect(await page.getByRole('textbox', { name: 'Miles planned' }).inputValue()).toBe('292.5');
    await page.getByLabel('Name', { exact: true }).fill('Round the lake');
    await page.getByLabel('Leave', { exact: true }).fill('2026-10-09');
    await page.getByLabel('Return', { exact: true }).fill('2026-10-11');
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: Trip planned: Round the lake/).waitFor();
    // Planned again without a file, it keeps its stops.
    await page.getByRole('button', { name: 'Change Round the lake' }).tap();
    await page.getByLabel('Return', { exact: true }).fill('2026-10-12');
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByText(/^Written: Trip planned: Round the lake.*12 Oct/).waitFor();
    const lines = await (await fetch(`${app.url}/api/rigs/marigold/entries?limit=1000`)).text();
    expect(lines.match(/"name":"Lakeside"/g)).toHaveLength(2);
    expect(errors).toEqual([]);
    await context.close();
  });
});
