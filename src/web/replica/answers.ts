import { type Entry, readEntries, understand, writeEntry } from '../../logbook/index.ts';
import { fail, type Result, unwrap } from '../../problem/index.ts';
import type { Keeper } from './keeper.ts';
import { keepPhotos, photo } from './photos.ts';
import type { Proposal, Question, Questions, Written } from './protocol.ts';
import { decoded } from './views/decode.ts';
import { entryLine } from './views/entry-text.ts';
import { draftFrom, formFor, slugOf } from './views/form.ts';
import { goView, toldBy } from './views/go.ts';
import { entryView, logbookPage } from './views/logbook.ts';
import { movePrice, pinKey } from './views/move.ts';
import { outboxView } from './views/outbox.ts';
import { calculationForm, calculationLines, reckon } from './views/reckon.ts';
import { partView, rigView } from './views/rig.ts';
import { mishapView, roadsideView } from './views/roadside.ts';
import { roundView } from './views/round.ts';
import { scaleView } from './views/scale.ts';
import { setNow } from './views/scale-tires.ts';
import { seasonView } from './views/season.ts';
import { settingsView } from './views/settings.ts';
import { sheetView } from './views/sheet.ts';
import { tableEntries, tableView } from './views/table.ts';
import { walkView } from './views/walk.ts';

type Answers = {
  readonly [Q in Question]: (
    keeper: Keeper,
    ask: Questions[Q]['ask'],
  ) => Questions[Q]['answer'] | Promise<Questions[Q]['answer']>;
};

/** Every question, answered. */
export const answers: Answers = {
  go: (keeper, { trip }) => goView(keeper, trip),
  round: (keeper, { trip }) => roundView(keeper, trip),
  season: (keeper) => seasonView(keeper),
  price: (keeper, { items, day }) => movePrice(keeper, items, day),
  pin: async (keeper, { items, day }) => {
    const value = day === null ? null : { day, how: 'on' };
    const drafts = items.map((item) => ({ kind: 'set', on: keeper.today, body: { key: pinKey(item), value } }));
    return written(keeper, unwrap(keeper.prepare(drafts)));
  },
  rig: (keeper) => rigView(keeper),
  part: (keeper, { part }) => partView(keeper, part),
  logbook: (keeper, { from, count, ...query }) => logbookPage(keeper, query, from, count),
  entry: (keeper, { id }) => entryView(keeper, id),
  photo: (keeper, { hash }) => photo(keeper, hash),
  scale: (keeper) => scaleView(keeper),
  setNow: (keeper, { air }) => unwrap(setNow(keeper, toldBy(keeper), air)),
  roadside: (keeper) => roadsideView(keeper),
  mishap: (keeper, { mishap }) => mishapView(keeper, mishap),
  settings: (keeper) => settingsView(keeper),
  set: async (keeper, { key, value }) =>
    written(keeper, unwrap(keeper.prepare([{ kind: 'set', on: keeper.today, body: { key, value } }]))),
  walk: (keeper) => walkView(keeper),
  decode: (keeper, { kind, code }) => decoded(kind, code, keeper.today),
  calculations: () => calculationLines(),
  calculation: (keeper, { id }) => calculationForm(keeper, id),
  reckon: (_keeper, { id, fields, values }) => unwrap(reckon(id, fields, values)),
  sheet: async (keeper, ask) => unwrap(await sheetView(keeper, ask)),
  form: (keeper, ask) => formFor(keeper, ask),
  understand: (keeper, { text }) => understood(keeper, text),
  fill: (keeper, { spec, on, values }) => proposal(keeper, [draftFrom(keeper, spec, on, values)]),
  check: (keeper, { drafts }) => proposal(keeper, drafts),
  write: async (keeper, { drafts, photos }) => {
    const hashes = await keepPhotos(keeper, photos ?? []);
    return written(keeper, unwrap(keeper.prepare(drafts, hashes)));
  },
  strike: async (keeper, { ids, reason }) => {
    const drafts = ids.map((entry) => ({ kind: 'strike', on: keeper.today, body: { entry, reason } }));
    return written(keeper, unwrap(keeper.prepare(drafts)));
  },
  sync: async (keeper) => {
    await keeper.sync();
    return null;
  },
  // The worker's channel to the server answers it before it comes here.
  look: () => null,
  openRig: async (keeper, { rig }) => {
    await keeper.openRig(rig);
    return null;
  },
  startRig: async (keeper, { name }) => {
    const rig = slugOf(name);
    await keeper.startRig(rig);
    return { rig };
  },
  importText: async (keeper, { text, demo }) => importText(keeper, text, demo),
  table: (keeper, ask) => tableView(keeper, ask),
  writeTable: async (keeper, ask) => {
    const entries = unwrap(await tableEntries(keeper, ask));
    await keeper.write(entries);
    return { ids: entries.map(({ id }) => id) };
  },
  exportCsv: async (keeper) => {
    const { logbookCsv } = await import('../../sheets/index.ts');
    return logbookCsv(keeper.state, keeper.desk().catalog);
  },
  exportText: (keeper) => linesText(keeper.state.entries.inOrder()),
  outbox: (keeper) => outboxView(keeper),
  exportWaiting: async ({ books, rig }) => linesText(await books.entries(await books.waiting(rig))),
  signAs: async (keeper, { name }) => {
    await keeper.signAs(name);
    return null;
  },
};

const linesText = (entries: readonly Entry[]): string => `${entries.map(writeEntry).join('\n')}\n`;

function understood(keeper: Keeper, text: string): Proposal {
  const read = understand(text, { state: keeper.state, catalog: keeper.catalog, today: keeper.today, by: keeper.by });
  if (!read.ok) return { drafts: [], said: '', problems: read.problems };
  const { drafts, understood: said } = read.value;
  return { ...proposal(keeper, drafts), said };
}

/** Drafts as they would be written, or why not. Nothing is written. */
function proposal(keeper: Keeper, drafts: readonly unknown[]): Proposal {
  const prepared = keeper.prepare(drafts);
  if (!prepared.ok) return { drafts: [], said: '', problems: prepared.problems };
  const told = toldBy(keeper);
  const said = prepared.value
    .map((entry) => entryLine(told, entry))
    .map(({ head, more }) => (more === '' ? `${head}.` : `${head}. ${more}.`));
  return {
    drafts: prepared.value.map(({ kind, on, body }) => ({ kind, on, body }) as never),
    said: said.join(' '),
    problems: [],
  };
}

async function written(keeper: Keeper, entries: readonly Entry[]): Promise<Written> {
  await keeper.write(entries);
  const told = toldBy(keeper);
  return { ids: entries.map(({ id }) => id), said: entries.map((entry) => entryLine(told, entry).head).join('. ') };
}

/** A logbook file: all of it, or nothing and every reason. The demo stands still on the day of its newest line. */
async function importText(keeper: Keeper, text: string, demo: boolean): Promise<Questions['importText']['answer']> {
  const read: Result<Entry[]> = readEntries(text);
  if (!read.ok) return { problems: read.problems };
  const rigs = [...new Set(read.value.map(({ rig }) => rig))];
  const [rig] = rigs;
  if (rig === undefined || rigs.length > 1) {
    const told = fail({
      code: 'web.import-rigs',
      what: 'The file must hold the logbook of one rig',
      expected: 'one rig',
      where: rigs.join(', '),
    });
    return { problems: told.ok ? [] : told.problems };
  }
  const last = read.value
    .map(({ at }) => at)
    .sort()
    .at(-1)!;
  const known = new Set((await keeper.books.entriesOf(rig)).map(({ id }) => id));
  const fresh = read.value.filter(({ id }) => !known.has(id));
  const note = demo ? { rig, today: last.slice(0, 10), local: true } : { ...(await keeper.books.note(rig)), rig };
  await keeper.books.keep(rig, fresh, { toSend: !demo, note });
  await keeper.openRig(rig);
  void keeper.sync();
  return { rig, added: fresh.length };
}
