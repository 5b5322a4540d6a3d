import { createHash } from 'node:crypto';
import Papa from 'papaparse';
import { beforeAll, describe, expect, it } from 'vitest';
import { demoDesk } from '../../test/support/demo.ts';
import type { Desk } from '../desk/index.ts';
import type { Plan } from '../plan/index.ts';
import { unwrap } from '../problem/index.ts';
import {
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
} from './index.ts';

let desk: Desk;
let plan: Plan;
let context: SheetContext;
let hash: string;

beforeAll(() => {
  desk = demoDesk();
  plan = unwrap(desk.plan({ workLimit: 60_000 }));
  hash = createHash('sha256').update(canonicalLogbook(desk.state)).digest('hex');
  context = sheetContext(desk, hash);
});

/** Text of a document as a reader sees it. */
const text = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/s, '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&amp;', '&')
    .replaceAll('&quot;', '"')
    .replace(/[\s\u00a0]+/g, ' ');

describe('sheets', () => {
  it('say of which logbook they were made, and need nothing from a network', () => {
    for (const html of [
      seasonSheet(context, plan),
      historySheet(context),
      roadsideSheet(context),
      yardSheet(context, plan, plan.days[0]!.date),
    ]) {
      expect(text(html)).toContain(hash);
      // At the foot of every page, in a box of the margin.
      expect(styleOf(html)).toMatch(
        /^@page \{.*@bottom-left \{ content: "Marigold & Biscuit · .* · logbook [0-9a-f]{12}";/,
      );
      expect(styleOf(html)).toContain('counter(page) " of " counter(pages)');
      expect(html).not.toMatch(/(src|href)="/);
      expect(html).not.toContain('<script');
    }
  });

  it('a name cannot break out of the style', () => {
    const html = roadsideSheet({ ...context, rig: '"; } </style><b>\\ ' });
    expect(html.match(/<\/style>/g)).toHaveLength(1);
    expect(styleOf(html)).toContain('content: "\\22 ; } \\3c /style\\3e \\3c b\\3e \\5c   ·');
  });

  it('the yard sheet has every job, tool, part and caution of its day', () => {
    const day = plan.days[0]!;
    const sheet = text(yardSheet(context, plan, day.date));
    for (const job of day.jobs) expect(sheet).toContain(job.title);
    for (const tool of day.tools) expect(sheet).toContain(tool);
    for (const job of day.jobs)
      for (const caution of desk.catalog.upkeeps.get(job.upkeep)?.cautions ?? []) expect(sheet).toContain(caution);
    for (const { id } of day.setups)
      for (const caution of desk.catalog.setups.get(id)!.cautions) expect(sheet).toContain(caution);
    expect(() => yardSheet(context, plan, '2020-01-01')).toThrow(RangeError);
  });

  it('the send-off sheet has the sentence, every open finding and what lifts it', () => {
    const sendOff = unwrap(desk.sendoff());
    const sheet = text(sendOffSheet(context, sendOff, plan));
    expect(sheet).toContain(sendOff.sentence);
    const plain = (words: string): string => words.replace(/[\s\u00a0]+/g, ' ');
    for (const finding of sendOff.findings.filter((one) => one.counts === 'hold')) {
      // Parts that stand alike are told once, with their places.
      expect(sheet).toContain(plain(finding.text.split(': ').slice(1).join(': ')));
      for (const place of finding.places) expect(sheet).toContain(place);
      expect(sheet.includes(plain(finding.takes!.action)) || sheet.includes(plain(finding.title))).toBe(true);
    }
    for (const finding of sendOff.findings.filter((one) => one.kind === 'limit' && one.counts === 'limits')) {
      const said = [finding.text, finding.text.split(': ').slice(1).join(': '), finding.takes!.action, finding.title];
      expect(said.some((one) => one !== '' && sheet.includes(plain(one)))).toBe(true);
    }
  });

  it('the history sheet has every entry, struck ones too', () => {
    const sheet = historySheet(context);
    expect(sheet.match(/<tr>/g)!.length).toBeGreaterThanOrEqual(desk.state.entries.size);
    expect(sheet.match(/\(struck\)/g)).toHaveLength(desk.state.struck.size);
  });

  it('the roadside sheet says where each tool is, or that it is not aboard', () => {
    const sheet = text(roadsideSheet(context));
    for (const mishap of desk.catalog.mishaps.values()) {
      if (sheet.includes(mishap.title)) for (const caution of mishap.cautions) expect(sheet).toContain(caution);
    }
    expect(sheet).toContain('NOT ABOARD');
  });

  it('labels carry a code for each part', () => {
    expect(labelSheet(context, 'http://127.0.0.1:4780').match(/<svg/g)!.length).toBeGreaterThan(20);
  });
});

describe('the logbook as a spreadsheet', () => {
  it('has one line an entry that reads back, and no cell that a spreadsheet would run', () => {
    const csv = logbookCsv(desk.state, desk.catalog);
    const { data, errors } = Papa.parse<Record<string, string>>(csv, { header: true, skipEmptyLines: true });
    expect(errors).toEqual([]);
    expect(data).toHaveLength(desk.state.entries.size);
    for (const row of data) for (const cell of Object.values(row)) expect(cell).not.toMatch(/^[=+@]/);
    expect(data.filter((row) => row.struck === 'struck')).toHaveLength(
      [...desk.state.entries.values()].filter((entry) => desk.state.struck.has(entry.id)).length,
    );
  });
});
