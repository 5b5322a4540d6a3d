/**
 * The app as it is used: the production build on the real server, in a real Chromium, on the loopback. Start-up of the demo, then an
 * invented rig of five hundred parts and twenty thousand entries (`test/support/large-rig.ts`). Usage: `npm run bench:web`.
 *
 * Each figure stands beside its aim. A machine that does other work besides is slower at everything: so a blank page of one script and
 * one worker is opened in the same run, and a page of nothing is scrolled, and figures are told as so many times theirs.
 */
import { loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { launch, serveApp } from '../test/browser/support.ts';
import { shippedCatalog } from '../test/support/catalog.ts';
import { LARGE, largeLogbook } from '../test/support/large-rig.ts';
import { blank } from './web/blank.ts';
import { bytes } from './web/bytes.ts';
import { type Frames, memory, rig, scroll, season, start } from './web/scenes.ts';

const RUNS = 5;
const say = (what: string, told: string, aim = ''): void =>
  console.log(`${what.padEnd(58)} ${told.padStart(22)}${aim === '' ? '' : `   ${aim}`}`);
const ms = (value: number): string => `${value.toFixed(0)} ms`;
const judged = (value: number, aim: number, unit: string): string =>
  `aim ≤ ${Number(aim.toFixed(2))}${unit && ` ${unit}`}: ${value <= aim ? 'met' : 'MISSED'}`;
const frames = ({ p50, p95, dropped }: Frames): string =>
  `${p50.toFixed(1)}, ${p95.toFixed(1)} ms, ${dropped.toFixed(1)} %`;

async function main(): Promise<void> {
  const size = bytes(fileURLToPath(new URL('../dist/web', import.meta.url)));
  const kB = (value: number): string => `${(value / 1000).toFixed(1)} kB`;
  console.log('Loaded before the first judgement, gzipped');
  say('script of the page and of its worker', kB(size.script), judged(size.script / 1000, 120, 'kB'));
  say('the catalog, as data', kB(size.catalog));
  say('style', kB(size.style));
  say('typeface', kB(size.typeface));
  say('all that is put by for a life without a network', kB(size.all));

  const browser = await launch();
  const demo = await serveApp();
  console.log(
    `\nThe demo, from its address until a button of the judgement has answered (load of the machine ${load()})`,
  );
  const empty = await blank(browser, RUNS);
  say('a blank page with one worker, for comparison', ms(empty));
  for (const slower of [1, 4]) {
    const { cold, warm, shift, longest } = await start(browser, demo.url, RUNS, slower);
    const as = slower === 1 ? '' : `, a phone: processor of the page ${slower} times slower`;
    say(
      `nothing on the device yet${as}`,
      `${ms(cold)}, × ${(cold / empty).toFixed(1)}`,
      slower === 1 ? judged(cold, 1000, 'ms') : '',
    );
    say(`  again, without a network${as && ', as a phone'}`, `${ms(warm)}, × ${(warm / empty).toFixed(1)}`);
    say('  what moved by itself (cumulative layout shift)', shift.toFixed(4), judged(shift, 0.01, ''));
    say('  longest task of the page', ms(longest));
  }
  const small = await season(browser, demo.url);
  console.log('\nThe demo’s season');
  say('longest task of the page: planned', ms(small.plan), judged(small.plan, 50, 'ms'));
  say('longest task of the page: a job dragged', ms(small.drag), judged(small.drag, 50, 'ms'));
  say('longest wait from an event to its paint', ms(small.event));
  say('frames while dragging: p50, p95, dropped', frames(small.moved));
  await demo.close();

  const large = await serveApp({ logbook: largeLogbook(shippedCatalog()) });
  console.log(`\n${LARGE.parts} parts and ${LARGE.entries} entries (load of the machine ${load()})`);
  const begun = await start(browser, large.url, 3);
  say('nothing on the device yet', `${ms(begun.cold)}, × ${(begun.cold / empty).toFixed(1)}`);
  say(
    '  again, without a network',
    `${ms(begun.warm)}, × ${(begun.warm / empty).toFixed(1)}`,
    judged(begun.warm, 1000, 'ms'),
  );
  const bare = await scroll(browser, large.url, true);
  const book = await scroll(browser, large.url, false);
  say('frames, a page of nothing scrolled: p50, p95, dropped', frames(bare));
  say(
    'frames, the logbook scrolled: p50, p95, dropped',
    frames(book),
    judged(book.p95, Math.max(16.7, bare.p95) * 1.05, 'ms'),
  );
  const parts = await rig(browser, large.url);
  say('the rig opened', ms(parts.open), judged(parts.open, 1000, 'ms'));
  say('its parts filtered', ms(parts.filter), judged(parts.filter, 100, 'ms'));
  say('words found in the logbook', ms(parts.find), judged(parts.find, 200, 'ms'));
  const big = await season(browser, large.url);
  say('longest task of the page: the season planned', ms(big.plan), judged(big.plan, 50, 'ms'));
  say('longest task of the page: a job dragged', ms(big.drag), judged(big.drag, 50, 'ms'));
  const held = await memory(browser, large.url);
  say('memory of the page', `${held.page.toFixed(1)} MB`);
  say('memory of its worker', held.workers.map((one) => `${one.toFixed(1)} MB`).join(', ') || 'not told');
  await browser.close();
  await large.close();
}

const load = (): string => loadavg()[0]!.toFixed(1);

void main();
