import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoText, openPage, ready, serving, TODAY } from './support.ts';

const app = serving();

/** The whole page and the replica are on the device; the server may now do what it likes. */
async function settled(page: Page): Promise<void> {
  await ready(page);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}

/** Every request to the server hangs: as where a phone has one bar of signal. */
async function hang(context: BrowserContext): Promise<void> {
  await context.route('**/api/**', () => undefined);
}

describe('the replica', () => {
  it('answers from the device while the network hangs', async () => {
    const { page, context } = await app.open();
    await settled(page);
    await hang(context);
    await page.reload();
    // Ten seconds are less than the app waits for a server.
    await page.locator('.go-head h1').waitFor({ timeout: 10_000 });
    expect(await page.locator('.go-head h1').textContent()).toMatch(/^Not yet\./);
    await page.getByLabel('What was read or done').fill('spare 64 psi, 18 C');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Write it down' }).tap({ timeout: 10_000 });
    await page.getByText('1 to send').waitFor({ timeout: 10_000 });
    await context.close();
  });

  it('takes over what an older version of the app kept on the device', async () => {
    const { page, context, errors } = await openPage(app.browser, `${app.url}/icon.svg`);
    await page.evaluate(async (text) => {
      const asked = indexedDB.open('rigworthy', 1);
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore('entries', { keyPath: 'id' }).createIndex('rig', 'rig');
        asked.result.createObjectStore('outbox', { keyPath: 'id' }).createIndex('rig', 'rig');
        asked.result.createObjectStore('rigs', { keyPath: 'rig' });
        asked.result.createObjectStore('blobs', { keyPath: 'hash' });
        asked.result.createObjectStore('device');
      };
      await new Promise((done) => {
        asked.onsuccess = done;
      });
      const tx = asked.result.transaction(['entries', 'rigs', 'device'], 'readwrite');
      const lines = text.trim().split('\n');
      for (const line of lines) tx.objectStore('entries').put({ ...JSON.parse(line), rig: 'from-before' });
      tx.objectStore('rigs').put({ rig: 'from-before', local: true });
      tx.objectStore('device').put('from-before', 'rig');
      await new Promise((done) => {
        tx.oncomplete = done;
      });
      asked.result.close();
    }, demoText());
    await page.goto(`${app.url}/?now=${TODAY}#/logbook`);
    await ready(page);
    const count = demoText().trim().split('\n').length;
    await page.getByText(`${count} entries, newest first.`).waitFor();
    // And it is there the next time, in its new place.
    await page.reload();
    await page.getByText(`${count} entries, newest first.`).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  it('keeps every line through hundreds of single writings, which are bound together when it is opened', async () => {
    const { page, context } = await app.open();
    await settled(page);
    const before = await entries(page);
    await context.setOffline(true);
    const line = page.getByLabel('What was read or done');
    // Each is a batch of its own: what is written down here is never put off.
    for (let n = 0; n < 3; n++) {
      await line.fill(`spare ${61 + n} psi, 18 C`);
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: 'Write it down' }).tap();
      await page.getByText(`${n + 1} to send`).waitFor();
    }
    await manyBatches(page, 'marigold', 80);
    for (const batches of [1, 1]) {
      await page.reload();
      await ready(page);
      expect(await entries(page)).toBe(before + 3);
      await page.getByText('3 to send').waitFor();
      expect(await batchesKept(page)).toBe(batches);
    }
    await context.close();
  });
});

/** How many lines the page says are on the device. */
async function entries(page: Page): Promise<number> {
  const text = await page.locator('.more-in').textContent();
  return Number(/([\d,]+) entries on this device/.exec(text ?? '')?.[1]?.replaceAll(',', ''));
}

/** Tears what is kept into so many batches, as years of single lines leave it. */
async function manyBatches(page: Page, rig: string, count: number): Promise<void> {
  await page.evaluate(
    async ([name, wanted]) => {
      const asked = indexedDB.open('rigworthy');
      await new Promise((done) => {
        asked.onsuccess = done;
      });
      const tx = asked.result.transaction('batches', 'readwrite');
      const store = tx.objectStore('batches');
      const all = store.getAll();
      all.onsuccess = () => {
        const lines = all.result.flatMap((batch: { entries: unknown[] }) => batch.entries);
        store.clear();
        const size = Math.ceil(lines.length / wanted);
        for (let at = 0; at < lines.length; at += size) store.add({ rig: name, entries: lines.slice(at, at + size) });
      };
      await new Promise((done) => {
        tx.oncomplete = done;
      });
      asked.result.close();
    },
    [rig, count] as const,
  );
}

async function batchesKept(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const asked = indexedDB.open('rigworthy');
    await new Promise((done) => {
      asked.onsuccess = done;
    });
    const counted = asked.result.transaction('batches').objectStore('batches').count();
    await new Promise((done) => {
      counted.onsuccess = done;
    });
    asked.result.close();
    return counted.result;
  });
}
