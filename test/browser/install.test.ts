import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { go } from './household.ts';
import { axe, PHONE, serving, TODAY, WEB_FOLDER } from './support.ts';

/** A copy of the build, so that a newer one can come in its place. */
const folder = mkdtempSync(join(tmpdir(), 'rigworthy-build-'));
// Without the packed files, since the next build is made by hand here.
beforeAll(() => cpSync(WEB_FOLDER, folder, { recursive: true, filter: (from) => !/\.(br|gz)$/.test(from) }));
const app = serving({ webFolder: folder });
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The size a PNG says it has (PNG specification, 11.2.2: width and height are the first of IHDR, 16 bytes in). */
const sizeOf = (png: Buffer): string => `${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`;

describe('Installing', () => {
  it('has a manifest that Chromium itself has nothing against', async () => {
    const { page, context } = await app.open();
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready);
    const devtools = await context.newCDPSession(page);
    const { data, errors } = await devtools.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
    // A context of a test is a private window, where nothing can be installed.
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito')).toEqual([]);
    const manifest = JSON.parse(data!);
    for (const { src, sizes, type, purpose } of manifest.icons) {
      const answer = await page.request.get(`${app.url}${src}`);
      expect(answer.headers()['content-type']).toContain(type);
      if (type === 'image/png') expect(sizeOf(await answer.body()), `${src}, ${purpose}`).toBe(sizes);
    }
    expect(manifest.icons.some((icon: { purpose: string }) => icon.purpose === 'maskable')).toBe(true);
    // The colours of the bar are those of the page.
    expect(manifest.background_color).toBe('#f7f2e8');
    await context.close();
  });

  it('is offered once, quietly, and from then on only on its page', async () => {
    const { page, context } = await app.open();
    const offer = (): Promise<void> =>
      page.evaluate(() => {
        const event = new Event('beforeinstallprompt', { cancelable: true });
        Object.assign(event, {
          prompt: async () => {
            document.body.dataset.asked = 'yes';
            return { outcome: 'dismissed' };
          },
        });
        dispatchEvent(event);
        document.body.dataset.held = String(event.defaultPrevented);
      });
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await go(page, 'settings/device');
    await page.getByText('This browser offers nothing to press here just now.').waitFor();
    await go(page, 'go');
    await offer();
    await page.getByText('This can be installed here').waitFor();
    expect(await page.evaluate(() => document.body.dataset.held)).toBe('true');
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Later' }).tap();
    await page.getByText('This can be installed here').waitFor({ state: 'detached' });

    await page.reload();
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await offer();
    await go(page, 'settings/device');
    expect(await page.getByText('This can be installed here').count()).toBe(0);
    await page.getByRole('button', { name: 'Install it on this device' }).tap();
    expect(await page.evaluate(() => document.body.dataset.asked)).toBe('yes');
    await context.close();
  });
});

describe('A newer version', () => {
  it('waits until it is wanted, then comes whole; an open page keeps the files it began with', async () => {
    const { page, context, errors } = await app.open({ size: PHONE });
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await page.getByRole('img', { name: 'Hold' }).waitFor();
    expect(await page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
    expect(await page.getByText('A newer version is ready').count()).toBe(0);

    // The next build: another page, and a service worker of another version.
    const index = join(folder, 'index.html');
    writeFileSync(index, readFileSync(index, 'utf8').replace('<title>Rigworthy', '<title>Newer Rigworthy'));
    const worker = join(folder, 'offline.js');
    const before = readFileSync(worker, 'utf8');
    writeFileSync(
      worker,
      before.replace(/rigworthy-\$\{(["'`])([0-9a-f]{16})\1\}|rigworthy-[0-9a-f]{16}/, 'rigworthy-0123456789abcdef'),
    );
    expect(readFileSync(worker, 'utf8')).not.toBe(before);
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await page.getByText('A newer version is ready').waitFor();
    expect(await page.title()).not.toContain('Newer');
    expect(await axe(page)).toEqual([]);
    // Put off, it is found on its page.
    await page.getByRole('button', { name: 'Later' }).tap();
    await page.getByText('A newer version is ready. What').waitFor({ state: 'detached' });
    await go(page, 'settings/device');
    await page.getByRole('button', { name: 'Reload with it' }).tap();
    await page.waitForFunction(() => document.title.includes('Newer'));
    await page.getByRole('heading', { name: 'This device: install, version' }).waitFor();
    expect(await page.evaluate(() => caches.keys())).toEqual(['rigworthy-0123456789abcdef']);
    // And it works without a network.
    await context.setOffline(true);
    await page.goto(`${app.url}/?now=${TODAY}#/settings`);
    await page.getByRole('heading', { name: 'Your own figures' }).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });
});
