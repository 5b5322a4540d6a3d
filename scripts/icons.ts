/**
 * `npx tsx scripts/icons.ts`: the mark as PNG in the sizes that phones and desks ask for, from `src/web/public/icon.svg`. Its drawing keeps
 * within the circle that a mask may cut out (the middle 80 %). Needs a Chromium.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { launch } from '../test/browser/support.ts';

const folder = new URL('../src/web/public/', import.meta.url);
const svg = readFileSync(new URL('icon.svg', folder), 'utf8');

async function draw(): Promise<void> {
  const browser = await launch();
  for (const size of [180, 192, 512]) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    await page.setContent(`<style>body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`);
    await page.screenshot({ path: fileURLToPath(new URL(`icon-${size}.png`, folder)) });
  }
  await browser.close();
}

await draw();
