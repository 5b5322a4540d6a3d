import { createHash } from 'node:crypto';
import { z } from 'zod';
import { isPlainDate } from '../../dates/index.ts';
import type { Desk } from '../../desk/index.ts';
import { unwrap } from '../../problem/index.ts';
import {
  calendarFeed,
  canonicalLogbook,
  historySheet,
  labelSheet,
  logbookCsv,
  roadsideSheet,
  type SheetContext,
  seasonSheet,
  sendOffSheet,
  sheetContext,
  styleOf,
  yardSheet,
} from '../../sheets/index.ts';
import type { Desks } from '../desks.ts';
import { problemError } from '../problem-response.ts';
import { type Answer, type Route, route } from '../route.ts';
import { rigName, rigParams } from '../schemas.ts';
import { originOf, type SessionRouteOptions } from './sessions.ts';

export const SHEET_NAMES = ['season', 'yard', 'send-off', 'roadside', 'history', 'labels'] as const;
type SheetName = (typeof SHEET_NAMES)[number];

const day = z.string().refine(isPlainDate, { error: 'expected a date as YYYY-MM-DD' });
const query = z.strictObject({
  now: day.optional(),
  date: day.optional().meta({ description: 'Which yard day; the next one where nothing is said.' }),
  trip: z.string().max(100).optional().meta({ description: 'Which trip; the next one where nothing is said.' }),
});

/** A sheet carries its own style and nothing else: no script, no picture from elsewhere. */
const policyOf = (html: string): string =>
  `default-src 'none'; style-src 'sha256-${createHash('sha256').update(styleOf(html)).digest('base64')}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;

const text = (content: string, type: string, headers: Readonly<Record<string, string>> = {}): Answer => ({
  bytes: { content: Buffer.from(content), type: `${type}; charset=utf-8` },
  headers,
});

/** What is printed, subscribed to, or opened in a spreadsheet. */
export function documentRoutes(desks: Desks, { store, mode, clock }: SessionRouteOptions): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/sheets/{sheet}',
      id: 'readSheet',
      tag: 'Answers',
      summary: 'A sheet to print, as a page that needs nothing else',
      access: 'reader',
      params: z.strictObject({ rig: rigName, sheet: z.enum(SHEET_NAMES) }),
      query,
      answers: { 200: { text: 'The sheet', type: 'text/html' } },
      async handle({ params, query: asked, request }) {
        const { desk } = await desks.of(params.rig, asked.now);
        // A name that a proxy or a caller gives is not printed: only this machine's own, which the guard has looked at.
        const html = sheet(params.sheet, desk, asked, originOf(mode) || `http://${request.headers.host}`);
        return text(html, 'text/html', { 'content-security-policy': policyOf(html) });
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/logbook.csv',
      id: 'readLogbookCsv',
      tag: 'Logbook',
      summary: 'The logbook as a spreadsheet, one line an entry',
      access: 'reader',
      params: rigParams,
      answers: { 200: { text: 'The spreadsheet', type: 'text/csv' } },
      async handle({ params }) {
        const { desk } = await desks.of(params.rig);
        const name = { 'content-disposition': `attachment; filename="${params.rig}.csv"` };
        return text(logbookCsv(desk.state, desk.catalog), 'text/csv', name);
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/calendar.ics',
      id: 'readCalendar',
      tag: 'Answers',
      summary: 'Trips, yard days and deadlines as iCalendar',
      access: 'reader',
      params: rigParams,
      answers: { 200: { text: 'The calendar', type: 'text/calendar' } },
      handle: async ({ params }) => calendar(desks, params.rig),
    }),
    route({
      method: 'GET',
      path: '/feeds/{file}',
      id: 'readFeed',
      tag: 'Answers',
      summary: 'The calendar at a private address, for calendar programs: the secret of a read-only link, then .ics',
      // A calendar program brings no cookie and no header: the address itself is the secret, and taking the link back ends it.
      access: 'open',
      params: z.strictObject({ file: z.string().regex(/^[\w.-]{16,200}\.ics$/, 'expected a link’s secret and .ics') }),
      answers: { 200: { text: 'The calendar', type: 'text/calendar' } },
      async handle({ params }) {
        const secret = params.file.slice(0, -'.ics'.length);
        const now = new Date(clock()).toISOString();
        const { links } = store.accounts;
        const link = (await links.find(secret, 'calendar', now)) ?? (await links.find(secret, 'share', now));
        if (!link) throw problemError('request.not-found', 'There is no such feed, or it was taken back');
        return calendar(desks, link.rig);
      },
    }),
  ];
}

async function calendar(desks: Desks, rig: string): Promise<Answer> {
  const { desk } = await desks.of(rig);
  return text(calendarFeed(desk, unwrap(desk.plan()), rig), 'text/calendar', {
    'cache-control': 'private, max-age=900',
  });
}

function sheet(name: SheetName, desk: Desk, asked: z.infer<typeof query>, address: string): string {
  const hash = createHash('sha256').update(canonicalLogbook(desk.state)).digest('hex');
  const context: SheetContext = sheetContext(desk, hash);
  switch (name) {
    case 'season':
      return seasonSheet(context, unwrap(desk.plan()));
    case 'yard':
      return yardSheetOf(context, desk, asked.date);
    case 'send-off':
      return sendOffSheet(context, unwrap(desk.sendoff(asked.trip)), unwrap(desk.plan()));
    case 'roadside':
      return roadsideSheet(context);
    case 'history':
      return historySheet(context);
    case 'labels':
      return labelSheet(context, address);
  }
}

function yardSheetOf(context: SheetContext, desk: Desk, date: string | undefined): string {
  const plan = unwrap(desk.plan());
  const found = date ?? plan.days[0]?.date;
  if (!found || !plan.days.some((one) => one.date === found)) {
    const days = plan.days.map((one) => one.date).join(', ');
    throw problemError('sheet.no-yard-day', `No work is planned for ${found ?? 'any day'}`, {
      expected: days || 'a plan with a yard day',
    });
  }
  return yardSheet(context, plan, found);
}
