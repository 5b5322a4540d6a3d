import { expect, it } from 'vitest';
import { entryNumber } from '../support/keeping.ts';
import { go } from './household.ts';
import { PHONE, ready, serving } from './support.ts';

const app = serving();

/** Puts a record where this device keeps what an earlier version of the program could not read. */
const keepRaw = (raws: readonly object[]) =>
  new Promise<void>((done, fail) => {
    const opening = indexedDB.open('rigworthy');
    opening.onsuccess = () => {
      const tx = opening.result.transaction('unread', 'readwrite');
      for (const raw of raws) tx.objectStore('unread').add({ rig: 'marigold', raw });
      tx.oncomplete = () => {
        opening.result.close();
        done();
      };
      tx.onerror = () => fail(tx.error);
    };
  });

it('what cannot be read is kept on the device, told, and read by a program that can', async () => {
  const { page } = await app.open({ size: PHONE });
  await page.getByRole('img', { name: 'Hold' }).waitFor();
  const readable = { ...entryNumber(1), by: 'A newer Ada' };
  const raws: readonly object[] = [{ ...entryNumber(2), v: 2 }, readable];
  await page.evaluate(keepRaw, raws as never);
  await page.reload();
  await ready(page);
  await page.getByText('Update this program: 1 entry needs a newer version').first().waitFor();
  await go(page, 'logbook');
  await page.getByRole('link', { name: /1 entry needs a newer version/ }).click();
  await page.getByRole('heading', { name: 'Set aside' }).waitFor();
  expect(await page.getByText(entryNumber(2).id).count()).toBeGreaterThan(0);
  expect(await page.getByText(readable.id).count()).toBe(0);
  await go(page, `logbook/${readable.id}`);
  await page.getByText('A newer Ada').first().waitFor();
});
