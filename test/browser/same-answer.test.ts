import type { Browser, Page } from 'playwright-core';
import { build, type Rollup } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogPlugin } from '../../build/catalog-plugin.ts';
import { type Worked, workOut } from './same-answer-page.ts';
import { demoText, launch, TODAY } from './support.ts';

/** The rooms that reckon, bundled and made small as the app's worker is. */
async function bundled(): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'warn',
    plugins: [catalogPlugin()],
    build: {
      target: 'es2023',
      write: false,
      minify: true,
      lib: { entry: new URL('same-answer-page.ts', import.meta.url).pathname, formats: ['iife'], name: 'reckoned' },
    },
  });
  const [{ output }] = built as [Rollup.RollupOutput];
  return output[0].code;
}

let browser: Browser;
let page: Page;
beforeAll(async () => {
  const [code, launched] = await Promise.all([bundled(), launch()]);
  browser = launched;
  page = await browser.newPage();
  await page.addScriptTag({ content: code });
});
afterAll(() => browser.close());

const inBrowser = (text: string, now: string, seed: number): Promise<Worked> =>
  page.evaluate(
    ([of, on, by]) => (globalThis as unknown as { reckoned: { workOut: typeof workOut } }).reckoned.workOut(of, on, by),
    [text, now, seed] as const,
  );

describe('the same logbook and seed', () => {
  it.each([20260527, 1, 77])(
    'give the same outlook and plan in the browser as here, to the last bit: seed %d',
    async (seed) => {
      const there = await inBrowser(demoText(), TODAY, seed);
      const here = workOut(demoText(), TODAY, seed);
      expect(Object.keys(here.moments).length).toBeGreaterThan(100);
      const other = Object.keys(here.moments).filter((id) => there.moments[id] !== here.moments[id]);
      expect(other).toEqual([]);
      expect(there.outlook).toBe(here.outlook);
      expect(there.plan).toBe(here.plan);
    },
  );
});
