/** The page that verifies a logbook: opened from a disk, without any server. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { strToU8, zipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ENTRY_VERSION, type Entry, writeEntry } from '../../src/logbook/index.ts';
import { headCode, nextStatements, verifyLogbook } from '../../src/proof/index.ts';
import { demoEntries } from '../support/demo.ts';
import { idNumber } from '../support/keeping.ts';
import { axe, DESK, launch, PHONE, WEB_FOLDER } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'rigworthy-verify-'));
let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true });
});

/** The demo's logbook, signed whole by one device. */
function signed(): Entry[] {
  const entries = demoEntries();
  const moment = { rig: 'marigold', at: '2026-05-27T18:00:00Z' };
  const signer = { secret: new Uint8Array(32).fill(7), name: 'Kitchen laptop' };
  const statements = nextStatements(signer, entries, moment).map(
    (body, at): Entry => ({
      ...moment,
      id: idNumber(9000 + at),
      kind: 'witness',
      on: '2026-05-27',
      by: 'Nell',
      v: ENTRY_VERSION,
      body,
    }),
  );
  return [...entries, ...statements];
}

const lines = (entries: readonly Entry[]) => entries.map((entry) => `${writeEntry(entry)}\n`).join('');

/** The verdict on a file, as the page says it. */
async function verdict(page: Page, name: string, content: string | Uint8Array): Promise<string> {
  const file = join(folder, name);
  writeFileSync(file, content);
  await page.locator('#file').setInputFiles(file);
  await expect.poll(() => page.locator('#verdict').textContent()).not.toMatch(/^(|Reading …)$/);
  return (await page.locator('#verdict').textContent()) ?? '';
}

it.each([
  ['a phone', PHONE],
  ['a desk', DESK],
])('judges files on %s, asks no network, and has nothing that axe finds', async (_, viewport) => {
  const context = await browser.newContext({ viewport, offline: true });
  const page = await context.newPage();
  const requests: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  const address = pathToFileURL(join(WEB_FOLDER, 'verify.html')).href;
  await page.goto(address);
  const whole = signed();
  expect(await verdict(page, 'whole.zip', zipSync({ 'logbook.jsonl': strToU8(lines(whole)) }))).toMatch(
    /^Nothing contradicts/,
  );
  await page.reload();
  expect(await verdict(page, 'short.jsonl', lines(whole.toSpliced(40, 1)))).toMatch(/NOT what the devices signed/);
  expect(await page.locator('li.wrong').allTextContents()).toEqual([
    expect.stringMatching(/^Entry \w{26} is gone; Kitchen laptop/),
  ]);
  const head = headCode(verifyLogbook(whole).devices[0]!.head);
  await page.reload();
  expect(await verdict(page, 'unsigned.jsonl', lines(demoEntries()))).toMatch(/nothing is proven/);
  await page.locator('#heads').fill(head);
  await page.locator('#heads').blur();
  await expect.poll(() => page.locator('#verdict').textContent()).toMatch(/NOT what the devices signed/);
  await page.reload();
  expect(await verdict(page, 'torn.jsonl', lines(whole).slice(0, -20))).toBe('This is not a whole logbook.');
  expect(await axe(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
  expect(requests.every((url) => url === address)).toBe(true);
  await context.close();
});
