import { mkdirSync, writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { createConfig, lintFromString } from '@redocly/openapi-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Folder } from '../../test/support/keeping.ts';
import { photoWithPlace } from '../../test/support/photos.ts';
import { fitSpare, TestServer } from '../../test/support/serving.ts';
import { unwrap } from '../problem/index.ts';

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
  await server.store.append([fitSpare()], { via: 'a test' });
});
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.stop();
});

describe('every answer', () => {
  it('carries a strict policy: no inline script, nobody’s frame, no guessing of types', async () => {
    for (const url of ['/api/rigs', '/nothing', '/api/rigs/marigold']) {
      const { headers } = await server.get(url);
      const policy = String(headers['content-security-policy']);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self';");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe|\*/);
      expect(headers['x-content-type-options']).toBe('nosniff');
    }
  });

  it('of a read has an ETag, and no body for who has it', async () => {
    const first = await server.get('/api/rigs/marigold');
    expect(first.headers.etag).toMatch(/^"[\w-]{27}"$/);
    const again = await server.get('/api/rigs/marigold', { 'if-none-match': String(first.headers.etag) });
    expect(again).toMatchObject({ status: 304, text: '' });
    await server.store.append([{ ...fitSpare(), id: fitSpare('x', 2).id }], { via: 'a test' });
    expect((await server.get('/api/rigs/marigold', { 'if-none-match': String(first.headers.etag) })).status).toBe(200);
  });

  it('of whatever is read, all but what is streamed, has an ETag that holds', async () => {
    const { hash } = unwrap(await server.store.putBlob('marigold', await photoWithPlace('image/jpeg')));
    const { json } = await server.get('/api/openapi.json');
    const fill: Record<string, string> = { rig: 'marigold', hash, id: fitSpare().id, sheet: 'roadside' };
    const untagged: string[] = [];
    let tagged = 0;
    for (const [path, { get }] of Object.entries(json.paths as Record<string, { get?: { operationId: string } }>)) {
      if (!get) continue;
      const url = path.replace(/\{(\w+)\}/g, (_all, name: string) => fill[name] ?? 'x');
      const { status, headers } = await server.get(url);
      if (status !== 200) continue;
      if (headers.etag === undefined) {
        untagged.push(get.operationId);
        continue;
      }
      const again = await server.get(url, { 'if-none-match': String(headers.etag) });
      expect([url, again.status, again.text]).toEqual([url, 304, '']);
      tagged++;
    }
    expect(untagged.sort()).toEqual(['readArchive', 'watchChanges']);
    expect(tagged).toBeGreaterThan(12);
  });

  it('that is a refusal is problem details', async () => {
    const refused: [string, () => ReturnType<TestServer['get']>, number, string][] = [
      ['nothing there', () => server.get('/api/nothing'), 404, 'request.not-found'],
      ['torn JSON', () => server.post('/api/rigs/marigold/entries', '{"entries": ['), 400, 'request.invalid'],
      [
        'a field too many',
        () => server.post('/api/rigs/marigold/entries', { entries: [], force: true }),
        400,
        'request.invalid',
      ],
      ['a bad limit', () => server.get('/api/rigs/marigold/entries?limit=0'), 400, 'request.invalid'],
      ['a limit twice', () => server.get('/api/rigs/marigold/entries?limit=1&limit=2'), 400, 'request.invalid'],
      ['a query where none is taken', () => server.get('/api/rigs?x=1'), 400, 'request.invalid'],
      ['a bad cursor', () => server.get('/api/rigs/marigold/entries?after=7'), 400, 'store.cursor'],
      ['a bad rig name', () => server.get('/api/rigs/Mari..gold'), 400, 'request.invalid'],
      [
        'a prototype',
        () => server.post('/api/rigs/marigold/entries', '{"__proto__": {"entries": []}}'),
        400,
        'request.invalid',
      ],
      [
        'a text body',
        () => server.ask('POST', '/api/rigs/marigold/entries', '{"entries":[]}', { 'content-type': 'text/plain' }),
        415,
        'request.media-type',
      ],
      [
        'too much',
        () => server.post('/api/rigs/marigold/write', `{"drafts": ["${'x'.repeat(1_100_000)}"]}`),
        413,
        'request.body-size',
      ],
    ];
    for (const [name, ask, status, code] of refused) {
      const answer = await ask();
      expect([name, answer.status, answer.json?.code]).toEqual([name, status, code]);
      expect(answer.headers['content-type']).toContain('application/problem+json');
      expect(answer.json).toMatchObject({
        type: `/problems/${code}`,
        status,
        title: expect.any(String),
        detail: expect.any(String),
      });
    }
  });
});

describe('who may ask, without accounts', () => {
  it('only under a name of this machine: a page elsewhere whose name points here is refused', async () => {
    for (const host of ['127.0.0.1:4780', 'localhost:4780', '[::1]:4780'])
      expect((await server.get('/api/rigs', { host })).status).toBe(200);
    for (const host of ['rigs.example', '127.0.0.1.rigs.example', 'localhost.rigs.example:4780']) {
      expect(await server.get('/api/rigs', { host })).toMatchObject({ status: 421, json: { code: 'request.host' } });
    }
  });

  it('only our own pages may change something', async () => {
    const send = (headers: Record<string, string>) =>
      server.post('/api/rigs/marigold/entries', { entries: [] }, { host: 'localhost:4780', ...headers });
    expect((await send({ origin: 'http://localhost:4780', 'sec-fetch-site': 'same-origin' })).status).toBe(200);
    expect((await send({})).status).toBe(200);
    for (const headers of [
      { origin: 'https://elsewhere.example' },
      { origin: 'null' },
      { origin: 'http://localhost:9999' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ]) {
      expect(await send(headers as Record<string, string>)).toMatchObject({
        status: 403,
        json: { code: 'request.cross-site' },
      });
    }
  });
});

describe('the web app', () => {
  it('is served from its folder and nothing outside it', async () => {
    const folder = new Folder();
    mkdirSync(folder.file('web/assets'), { recursive: true });
    writeFileSync(folder.file('web/index.html'), '<!doctype html><title>Can we go?</title>');
    writeFileSync(folder.file('web/assets/app-Ab3dE6gH.js'), 'export {};');
    writeFileSync(folder.file('web/assets/app-Ab3dE6gH.js.gz'), gzipSync('export {};'));
    writeFileSync(folder.file('web/.env'), 'not for you');
    writeFileSync(folder.file('secret.txt'), 'not for you');
    const web = await TestServer.start({ webFolder: folder.file('web') });
    expect(await web.get('/')).toMatchObject({ status: 200, headers: { 'cache-control': 'no-cache' } });
    for (const [accepts, encoding] of [
      ['identity', undefined],
      ['gzip', 'gzip'],
    ] as const) {
      const { headers } = await web.get('/assets/app-Ab3dE6gH.js', { 'accept-encoding': accepts });
      expect(headers['cache-control']).toContain('immutable');
      expect(headers['content-encoding']).toBe(encoding);
      expect(headers['content-type']).toContain('javascript');
    }
    for (const url of [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/assets/..%2f..%2fsecret.txt',
      '/.env',
      '/assets/%00',
    ]) {
      const answer = await web.get(url);
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
      expect(answer.text).not.toContain('not for you');
    }
    await web.stop();
    folder.remove();
  });

  it('that was not built is said so', async () => {
    await expect(TestServer.start({ webFolder: '/nowhere/at/all' })).rejects.toThrow(/no built web app/);
  });
});

describe('the API document', () => {
  it('is made of the routes and passes a linter that is not ours', async () => {
    const { json } = await server.get('/api/openapi.json');
    expect(json.openapi).toBe('3.1.0');
    expect(Object.keys(json.paths)).toContain('/api/rigs/{rig}/entries');
    const config = await createConfig({ extends: ['recommended-strict'] });
    const found = await lintFromString({ source: JSON.stringify(json), config });
    expect(found.map(({ ruleId, message, location }) => `${ruleId}: ${message} ${location[0]?.pointer}`)).toEqual([]);
  });

  it('names every kind of entry', async () => {
    const { json } = await server.get('/api/openapi.json');
    const text = JSON.stringify(json.components.schemas.Entry);
    for (const kind of ['enroll', 'fit', 'work', 'trip-done', 'strike']) expect(text).toContain(`"const":"${kind}"`);
  });
});
