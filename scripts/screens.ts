/**
 * `npx tsx scripts/screens.ts`: a picture of every screen in every theme at both sizes, of the demo on its last day, into `docs/screens/`.
 * Needs the built app and a Chromium.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { makeLink, nell } from '../test/browser/household.ts';
import { DESK, launch, openPage, PHONE, ready, serveApp } from '../test/browser/support.ts';

const folder = fileURLToPath(new URL('../docs/screens/', import.meta.url));
const screens = [
  ['go', 'go'],
  ['round', 'round'],
  ['season', 'season'],
  ['rig', 'rig'],
  ['part', 'rig/spare'],
  ['scale', 'scale'],
  ['logbook', 'logbook'],
  ['roadside', 'roadside/flat-tire'],
  ['walk-round', 'walk/3'],
  ['figures', 'settings'],
  ['handbook', 'settings/handbook'],
  ['copies', 'settings/data'],
] as const;

async function picture(): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const [app, shared, browser] = await Promise.all([serveApp(), serveApp({ accounts: true }), launch()]);
  const owner = await nell({ open: (options) => openPage(browser, shared.url, options) }, { size: DESK });
  const link = await makeLink(owner.page, 'the buyer');
  for (const theme of ['paper', 'night', 'sun'] as const) {
    for (const [size, viewport] of Object.entries({ phone: PHONE, desk: DESK })) {
      const { page, context } = await openPage(browser, app.url, { theme, size: viewport });
      for (const [name, to] of screens) {
        await page.evaluate((hash) => {
          location.hash = hash;
        }, `#/${to}`);
        await ready(page);
        await page.evaluate(() => document.fonts.ready);
        // Again: the page gone to may not have begun when the first one was asked.
        await ready(page);
        await page.screenshot({ path: `${folder}${name}-${theme}-${size}.png` });
      }
      await context.close();
      // The same rig as a buyer sees it, who came by the owner's link.
      const look = await openPage(browser, shared.url, { theme, size: viewport, hash: new URL(link).hash });
      await ready(look.page);
      await look.page.evaluate(() => document.fonts.ready);
      await look.page.screenshot({ path: `${folder}shown-${theme}-${size}.png` });
      await look.context.close();
    }
  }
  await browser.close();
  await app.close();
  await shared.close();
}

await picture();
