import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Browser } from 'playwright-core';
import { middle } from './page.ts';

const FILES: Readonly<Record<string, readonly [type: string, text: string]>> = {
  '/': [
    'text/html',
    '<!doctype html><title>Blank</title><p id="p">Blank</p><script type="module" src="/page.js"></script>',
  ],
  '/page.js': [
    'text/javascript',
    `const worker = new Worker('/worker.js', { type: 'module' });
     worker.onmessage = ({ data }) => {
       document.getElementById('p').textContent = data;
       requestAnimationFrame(() => setTimeout(() => { window.painted = performance.now(); }));
     };
     worker.postMessage('here');`,
  ],
  '/worker.js': ['text/javascript', 'onmessage = ({ data }) => postMessage(data);'],
};

/** A page of one script and one worker, until what the worker answered is on the screen: the least that such an app can take. */
export async function blank(browser: Browser, times: number): Promise<number> {
  const server = createServer(({ url }, answer) => {
    const [type, text] = FILES[url ?? ''] ?? ['text/plain', ''];
    answer.setHeader('content-type', type).end(text);
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const runs: number[] = [];
  for (let n = 0; n < times; n++) {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`, { waitUntil: 'commit' });
    const painted = await page.waitForFunction(() => (window as unknown as { painted?: number }).painted);
    runs.push((await painted.jsonValue())!);
    await context.close();
  }
  server.close();
  return middle(runs);
}
