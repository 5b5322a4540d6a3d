import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../support/catalog.ts';
import { LARGE, largeLogbook } from '../support/large-rig.ts';
import { go } from './household.ts';
import { axe, DESK, PHONE, serving } from './support.ts';

const app = serving({ logbook: largeLogbook(shippedCatalog()) });

const COUNT = LARGE.entries.toLocaleString('en-US');

describe('twenty thousand entries', () => {
  it('shows the first and the last, goes to a year, finds one, and strikes it', async () => {
    const { page, context, errors } = await app.open({ hash: '#/logbook' });
    await page.getByText(`${COUNT} entries, newest first.`).waitFor({ timeout: 60_000 });
    const first = page.locator('.lines > li').first();
    expect(await first.getAttribute('aria-posinset')).toBe('1');
    expect(await first.getAttribute('aria-setsize')).toBe(String(LARGE.entries));
    expect(await page.locator('.lines > li').count()).toBeLessThan(60);

    await page.evaluate(() => scrollTo(0, document.documentElement.scrollHeight));
    const last = page.locator(`.lines > li[aria-posinset="${LARGE.entries}"] .line-day`);
    expect(await last.textContent()).toMatch(/3 Mar 2006/);

    await page.getByLabel('Go to').selectOption('2015');
    await page.waitForFunction(() => /Dec 2015|2015/.test(document.activeElement?.textContent ?? ''));

    await page.evaluate(() => scrollTo(0, 0));
    await page.getByLabel('Words to find').fill('struck twice 2011');
    await page.getByText('1 entry, newest first.').waitFor();
    await page.locator('.line').tap();
    await page
      .getByText(/Struck: .*Read twice on the day of 2011/)
      .first()
      .waitFor();
    await page.goBack();
    // What was looked for is still looked for.
    await page.getByText('1 entry, newest first.').waitFor();

    await page.getByLabel('Words to find').fill('two rivers 2019 planned');
    await page.getByText('1 entry, newest first.').waitFor();
    await page.locator('.line').tap();
    await page.getByRole('button', { name: 'Strike it' }).tap();
    await page.getByLabel('Why is it struck?').fill('Planned by mistake');
    await page.getByRole('button', { name: 'Strike it' }).tap();
    await page.getByText('Struck. The line stays, and counts no more.').waitFor();
    await go(page, 'logbook');
    await page.getByText(`${(LARGE.entries + 1).toLocaleString('en-US')} entries, newest first.`).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('comes back to the line that was left, by finger and by keyboard', async () => {
    const { page, context } = await app.open({ size: DESK, hash: '#/logbook' });
    await page.getByText(/entries, newest first\./).waitFor({ timeout: 60_000 });
    await page.getByLabel('Go to').selectOption('2012');
    await page.waitForFunction(() => document.activeElement?.classList.contains('line'));
    const [link, y] = await page.evaluate(() => [document.activeElement?.getAttribute('href'), scrollY] as const);
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => document.activeElement?.tagName === 'H1');
    await page.goBack();
    await page.waitForFunction((to) => document.activeElement?.getAttribute('href') === to, link);
    expect(await page.evaluate(() => scrollY)).toBe(y);
    expect(await axe(page)).toEqual([]);
    await context.close();
  });
});

describe('five hundred parts', () => {
  it('have a season line that stays a line: names where there is room, none over another', async () => {
    for (const [size, most] of [
      [PHONE, 260],
      [DESK, 300],
    ] as const) {
      const { page, context, errors } = await app.open({ size, hash: '#/season' });
      const line = page.locator('svg.season-line');
      await line.waitFor({ timeout: 60_000 });
      const drawn = await line.evaluate((svg: SVGSVGElement) => ({
        height: svg.getBoundingClientRect().height,
        marks: svg.querySelectorAll('.trip rect, .day circle').length,
        names: Array.from(svg.querySelectorAll<SVGTextElement>('.trip text, .day text'), (text) => {
          const { x, y, width, height } = text.getBBox();
          return { text: text.textContent, left: x, right: x + width, top: y, bottom: y + height };
        }),
      }));
      expect(drawn.height).toBeLessThan(most);
      expect(drawn.names.length).toBeGreaterThan(2);
      // Who has no name there keeps the mark.
      expect(drawn.marks).toBeGreaterThan(drawn.names.length);
      for (const [at, a] of drawn.names.entries())
        for (const b of drawn.names.slice(at + 1)) {
          const over = Math.min(a.right, b.right) - Math.max(a.left, b.left);
          const deep = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
          expect(over > 1 && deep > 4, `${a.text} and ${b.text} lie over each other`).toBe(false);
        }
      expect(errors).toEqual([]);
      await context.close();
    }
  });

  it('are found by words and by how they stand; back from one keeps the place', async () => {
    const { page, context, errors } = await app.open({ hash: '#/rig' });
    await page.getByText(`${LARGE.parts} parts at`).waitFor({ timeout: 60_000 });
    expect(await page.locator('.part-row').count()).toBe(LARGE.parts);
    await page.getByLabel('Words to find').fill('smoke bedroom');
    await page.getByText(`1 of ${LARGE.parts} parts`).waitFor();
    expect(await axe(page)).toEqual([]);
    await page.getByLabel('How it stands').selectOption('out');
    await page.getByText(/No part is like that|1 of/).waitFor();
    await page.getByLabel('How it stands').selectOption('');
    await page.getByLabel('Words to find').fill('hinge');
    const row = page.locator('.part-row', { hasText: 'hatch 90' }).or(page.locator('.part-row').nth(70));
    await row.first().scrollIntoViewIfNeeded();
    const y = await page.evaluate(() => scrollY);
    expect(y).toBeGreaterThan(500);
    await row.first().tap();
    await page.getByRole('heading', { level: 1, name: /Locks, hinges/ }).waitFor();
    expect(await page.evaluate(() => scrollY)).toBe(0);
    await page.goBack();
    await page.getByText(/of 500 parts/).waitFor();
    await page.waitForFunction((to) => Math.abs(scrollY - to) < 2, y);
    // Gone to anew, it begins at the top, with nothing looked for.
    await go(page, 'logbook');
    await go(page, 'rig');
    expect(await page.locator('.part-row').count()).toBe(LARGE.parts);
    expect(await page.evaluate(() => scrollY)).toBe(0);
    expect(errors).toEqual([]);
    await context.close();
  });
});
