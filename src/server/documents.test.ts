import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demoEntries } from '../../test/support/demo.ts';
import { TestServer } from '../../test/support/serving.ts';

let server: TestServer;
const TODAY = '2026-05-27';

beforeEach(async () => {
  server = await TestServer.start({ today: () => TODAY });
  await server.store.append(demoEntries(), { via: 'a test' });
});
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.stop();
});

describe('documents over HTTP', () => {
  it('each sheet is a page that may run nothing and fetch nothing', async () => {
    for (const name of ['season', 'yard', 'send-off', 'roadside', 'history', 'labels']) {
      const { status, headers, text } = await server.get(`/api/rigs/marigold/sheets/${name}`);
      expect([name, status, headers['content-type']]).toEqual([name, 200, 'text/html; charset=utf-8']);
      expect(text).toContain('<!doctype html>');
      expect(headers['content-security-policy']).toMatch(/^default-src 'none'; style-src 'sha256-[\w+/=]+'; /);
    }
  });

  it('says which yard days there are when asked for another', async () => {
    const { status, json } = await server.get('/api/rigs/marigold/sheets/yard?date=2026-12-24');
    expect(status).toBe(422);
    expect(json).toMatchObject({
      code: 'sheet.no-yard-day',
      problems: [{ expected: expect.stringMatching(/^2026-/) }],
    });
  });

  it('gives the logbook as a spreadsheet and the calendar as iCalendar', async () => {
    const csv = await server.get('/api/rigs/marigold/logbook.csv');
    expect(csv.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(csv.text.split('\r\n').length).toBeGreaterThan(demoEntries().length);
    const calendar = await server.get('/api/rigs/marigold/calendar.ics');
    expect(calendar.headers['content-type']).toBe('text/calendar; charset=utf-8');
    expect(calendar.text).toMatch(/^BEGIN:VCALENDAR\r\n/);
  });

  it.each(['calendar', 'share'])(
    'feeds the calendar at a private address until the link is taken back (%s)',
    async (kind) => {
      const made = await server.ask('POST', '/api/rigs/marigold/links', { kind, label: 'kitchen calendar' });
      expect(made.status).toBe(201);
      const { token, id } = made.json as { token: string; id: string };
      const feed = () => server.get(`/feeds/${token}.ics`);
      expect((await feed()).text).toMatch(/^BEGIN:VCALENDAR\r\n/);
      expect((await server.get(`/feeds/${'x'.repeat(token.length)}.ics`)).status).toBe(404);
      expect((await server.ask('DELETE', `/api/rigs/marigold/links/${id}`)).status).toBe(204);
      expect((await feed()).status).toBe(404);
    },
  );
});
