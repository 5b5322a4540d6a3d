/**
 * `npx tsx scripts/screens.ts`: a picture of every screen in every theme at both sizes, of the demo on its last day, into `docs/screens/`.
 * Needs the built app and a Chromium.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { DESK, launch, openPage, PHONE, ready, serveApp } from '../test/browser/support.ts';

const folder = fileURLToPath(new URL('../docs/screens/', import.meta.url));
const screens = [
  ['go', 'go'],
  ['season', 'season'],
  ['rig', 'rig'],
  ['part', 'rig/spare'],
  ['scale', 'scale'],
  ['logbook', 'logbook'],
  ['roadside', 'roadside/flat-tire'],
  ['walk-round', 'walk/3'],
  ['figures', 'settings'],
] as const;

async function picture(): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const [app, browser] = await Promise.all([serveApp(), launch()]);
  for (const theme of ['paper', 'night', 'sun'] as const) {
    for (const [size, viewport] of Object.entries({ phone: PHONE, desk: DESK })) {
      const { page, context } = await openPage(browser, app.url, { theme, size: viewport });
      for (const [name, to] of screens) {
        await page.evaluate((hash) => {
          location.hash = hash;
        }, `#/${to}`);
        await ready(page);
        await page.evaluate(() => document.fonts.ready);
        await page.screenshot({ path: `${folder}${name}-${theme}-${size}.png` });
      }
      await context.close();
    }
  }
  await browser.close();
  await app.close();
}

await picture();
