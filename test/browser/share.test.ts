import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { databases, go, makeLink, nell, news } from './household.ts';
import { axe, DESK, type Opened, PAGES_SHOWN, PHONE, ready, serving, type Theme, TODAY } from './support.ts';

const app = serving({ accounts: true });
/** Nell at her desk: signed in once for all of these. */
let owner: Opened;
beforeAll(async () => {
  const file = new URL('../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url);
  prepareZXingModule({ overrides: { wasmBinary: readFileSync(file).buffer as ArrayBuffer } });

  owner = await nell(app, { size: DESK });
});

/** The link as a browser opens it that has never been here. */
const open = (link: string, size = PHONE, theme: Theme = 'paper') =>
  app.open({ size, theme, hash: new URL(link).hash });

describe('A link to look at a rig', () => {
  it('is made by the owner, and can be scanned from the screen in every theme', async () => {
    const { page } = owner;
    const link = await makeLink(page, 'the buyer');
    expect(new URL(link).hash).toMatch(/^#share=.{40,}$/);
    for (const theme of ['paper', 'night', 'sun']) {
      await page.evaluate((chosen) => document.documentElement.setAttribute('data-theme', chosen), theme);
      const [code] = await readBarcodes(new Uint8Array(await page.locator('.qr').screenshot()));
      expect(code).toMatchObject({ format: 'QRCode', text: link });
      expect(await axe(page)).toEqual([]);
    }
    await page.evaluate(() => document.documentElement.setAttribute('data-theme', 'paper'));
  });

  it('opens every page to read, and none of them to write', async () => {
    const link = await makeLink(owner.page, 'the mechanic');
    const { page, context, errors } = await open(link);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.getByText(/^Nell shows you this rig, read-only, since .+ and until .+\./).waitFor();
    expect(page.url()).not.toContain('share');
    expect(await page.getByLabel('What was read or done').count()).toBe(0);
    const secret = new URL(link).hash.split('.')[1]!;
    for (const to of PAGES_SHOWN) {
      await go(page, to);
      // Whatever can be pressed, pressed: no form opens, and nobody is told that writing was tried.
      for (const button of await page.locator('main button:visible').all()) {
        if ((await button.isVisible()) && (await button.isEnabled())) await button.click();
      }
      expect(await page.getByRole('dialog').count(), to).toBe(0);
      expect(await page.getByText('You may read this rig').count(), to).toBe(0);
      expect(await page.getByText('Close it').count(), to).toBe(1);
    }
    // Pages about whoever is signed in lead back to the rig.
    await go(page, 'people');
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    expect(asked.filter((url) => url.includes(secret))).toEqual([]);
    expect(await databases(page)).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });

  it('prints the history, and works on without a network while the page is open', async () => {
    const { page, context } = await open(await makeLink(owner.page, 'the insurer'), DESK);
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await context.setOffline(true);
    await go(page, 'sheet/history');
    await page.locator('.paper').waitFor();
    const text = await page.locator('.paper').evaluate((host) => host.shadowRoot!.textContent);
    expect(text).toContain('Every entry');
    await page.evaluate(() => {
      window.print = () => document.body.setAttribute('data-printed', '');
    });
    await page.getByRole('button', { name: 'Print' }).click();
    expect(await page.locator('body[data-printed]').count()).toBe(1);
    // On paper there is the sheet and nothing of the page round it.
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.reads-only:visible, .head:visible, .foot:visible').count()).toBe(0);
    await context.close();
  });

  it('shows nothing any more once it is taken back, and leaves nothing on the device', async () => {
    const link = await makeLink(owner.page, 'no longer');
    const { page, context } = await open(link, PHONE, 'sun');
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await owner.page.getByRole('button', { name: 'Take back no longer' }).click();
    await owner.page.getByRole('button', { name: 'Take back no longer' }).waitFor({ state: 'detached' });
    await news(page);
    await page.getByRole('heading', { name: 'This rig is no longer shown to you' }).waitFor();
    expect(await page.locator('body').textContent()).not.toContain('Marigold');
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Open the demo rig' }).waitFor();
    expect(await page.evaluate(() => sessionStorage.length)).toBe(0);
    await context.close();
    // Nor does it open again.
    const again = await open(link);
    await again.page.getByRole('heading', { name: 'This rig is no longer shown to you' }).waitFor();
    await again.context.close();
  });

  it('keeps apart from a rig of one’s own in the same browser', async () => {
    const link = await makeLink(owner.page, 'a neighbour');
    const page = await owner.context.newPage();
    await page.goto(`${app.url}/?now=${TODAY}${new URL(link).hash}`);
    await page.getByText(/^Nell shows you this rig/).waitFor();
    await page.getByRole('button', { name: 'Close it' }).click();
    // The other window is still Nell's own.
    await go(owner.page, 'go');
    expect(await owner.page.getByLabel('What was read or done').count()).toBe(1);
  });

  it.each<[Theme, { width: number; height: number }]>([
    ['paper', PHONE],
    ['night', DESK],
    ['sun', PHONE],
  ])('has nothing that axe objects to, and nothing wider than the page (%s)', async (theme, size) => {
    const { page, context } = await open(await makeLink(owner.page, `a look, ${theme}`), size, theme);
    await ready(page);
    for (const to of ['go', 'logbook']) {
      await go(page, to);
      expect(await axe(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), to).toBeLessThanOrEqual(0);
    }
    await context.close();
  });
});
