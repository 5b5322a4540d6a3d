import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { TestServer, TODAY } from '../../test/support/serving.ts';
import { unwrap } from '../problem/index.ts';
import { serve } from './index.ts';

describe('listening', () => {
  it('on this machine works; the port taken, and an address open to others, are said', async () => {
    const test = await TestServer.start();
    const options = { store: test.store, catalog: shippedCatalog(), clock: () => 0, today: () => TODAY, version: '0' };
    const listening = unwrap(await serve(options, { port: 0 }));
    const answer = await fetch(`${listening.url}/api/rigs`);
    expect([answer.status, await answer.json()]).toEqual([
      200,
      { today: TODAY, you: { name: 'owner', signedIn: false }, rigs: [] },
    ]);
    const port = Number(new URL(listening.url).port);
    expect(await serve(options, { port })).toMatchObject({ ok: false, problems: [{ code: 'server.port-taken' }] });
    expect(await serve(options, { port: 0, host: '0.0.0.0' })).toMatchObject({
      ok: false,
      problems: [{ code: 'server.address-open' }],
    });
    await listening.close();
    await test.stop();
  });
});
