import { type Entry, quarantineKey, readEntries, settingOf, writeEntry } from '../../logbook/index.ts';
import { fail, type Result, unwrap } from '../../problem/index.ts';
import type { Keeper } from './keeper.ts';
import { keepPhotos, photo } from './photos.ts';
import type { Question, Questions } from './protocol.ts';
import { goView } from './views/go.ts';
import { marginsView } from './views/margins.ts';
import { slugOf } from './views/slug.ts';
import { toldBy } from './views/told.ts';

/** What no first screen needs comes when it is first asked for. */
const late = {
  decode: () => import('./views/decode.ts'),
  form: () => import('./views/form.ts'),
  grounds: () => import('./views/grounds.ts'),
  handbook: () => import('./views/handbook.ts'),
  logbook: () => import('./views/logbook.ts'),
  move: () => import('./views/move.ts'),
  outbox: () => import('./views/outbox.ts'),
  reckon: () => import('./views/reckon.ts'),
  rig: () => import('./views/rig.ts'),
  roadside: () => import('./views/roadside.ts'),
  round: () => import('./views/round.ts'),
  route: () => import('./views/route.ts'),
  scale: () => import('./views/scale.ts'),
  scaleTires: () => import('./views/scale-tires.ts'),
  season: () => import('./views/season.ts'),
  sentence: () => import('./views/sentence.ts'),
  settings: () => import('./views/settings.ts'),
  sheet: () => import('./views/sheet.ts'),
  table: () => import('./views/table.ts'),
  walk: () => import('./views/walk.ts'),
  writing: () => import('./writing.ts'),
  sheets: () => import('../../sheets/index.ts'),
};

/** Has what is likeliest to be asked next come along already, once the first screen is there: the network may be gone by then. */
export async function comeAlong(): Promise<void> {
  for (const view of [
    late.grounds,
    late.writing,
    late.sentence,
    late.form,
    late.roadside,
    late.rig,
    late.logbook,
    late.scale,
  ])
    await view().catch(() => undefined);
}

type Answers = {
  readonly [Q in Question]: (
    keeper: Keeper,
    ask: Questions[Q]['ask'],
  ) => Questions[Q]['answer'] | Promise<Questions[Q]['answer']>;
};

/** Every question, answered. */
export const answers: Answers = {
  go: (keeper, { trip }) => goView(keeper, trip),
  grounds: async (keeper, ask) => (await late.grounds()).groundsView(keeper, ask),
  margins: (keeper) => marginsView(keeper),
  round: async (keeper, { trip }) => (await late.round()).roundView(keeper, trip),
  season: async (keeper) => (await late.season()).seasonView(keeper),
  price: async (keeper, { items, day }) => (await late.move()).movePrice(keeper, items, day),
  pin: async (keeper, { items, pin }) => {
    const { pinKey } = await late.move();
    const drafts = items.map((item) => ({ kind: 'set', on: keeper.today, body: { key: pinKey(item), value: pin } }));
    return (await late.writing()).write(keeper, drafts);
  },
  rig: async (keeper) => (await late.rig()).rigView(keeper),
  part: async (keeper, { part }) => (await late.rig()).partView(keeper, part),
  logbook: async (keeper, { from, count, ...query }) => (await late.logbook()).logbookPage(keeper, query, from, count),
  entry: async (keeper, { id }) => (await late.logbook()).entryView(keeper, id),
  aside: async (keeper) => (await late.logbook()).asideView(keeper),
  decide: async (keeper, { id, decision }) => {
    const body = { key: quarantineKey(id), value: decision };
    return (await late.writing()).write(keeper, [{ kind: 'set', on: keeper.today, body }]);
  },
  photo: (keeper, { hash }) => photo(keeper, hash),
  scale: async (keeper) => (await late.scale()).scaleView(keeper),
  setNow: async (keeper, { air }) => unwrap((await late.scaleTires()).setNow(keeper, toldBy(keeper), air)),
  roadside: async (keeper) => (await late.roadside()).roadsideView(keeper),
  mishap: async (keeper, { mishap }) => (await late.roadside()).mishapView(keeper, mishap),
  settings: async (keeper) => (await late.settings()).settingsView(keeper),
  handbook: async (keeper) => (await late.handbook()).handbookView(keeper),
  set: async (keeper, { key, value }) =>
    (await late.writing()).write(keeper, [{ kind: 'set', on: keeper.today, body: { key, value } }]),
  walk: async (keeper) => (await late.walk()).walkView(keeper),
  decode: async (keeper, { kind, code }) =>
    (await late.decode()).decoded(kind, code, keeper.today, settingOf(keeper.state, 'units') ?? 'us'),
  calculations: async () => (await late.reckon()).calculationLines(),
  calculation: async (keeper, { id }) => (await late.reckon()).calculationForm(keeper, id),
  reckon: async (_keeper, { id, fields, values }) => unwrap((await late.reckon()).reckon(id, fields, values)),
  sheet: async (keeper, ask) => unwrap(await (await late.sheet()).sheetView(keeper, ask)),
  form: async (keeper, ask) => (await late.form()).formFor(keeper, ask),
  understand: async (keeper, { text }) => {
    const { drafts, said, problems } = (await late.sentence()).sentenceView(keeper, text);
    return drafts.length === 0
      ? { drafts, said, problems }
      : { ...(await late.writing()).proposal(keeper, drafts), said };
  },
  fill: async (keeper, { spec, on, values }) => {
    const { filledForm, looked } = await late.form();
    const filled = filledForm(keeper, spec, on, values);
    if (!filled.ok) return { drafts: [], said: '', problems: filled.problems };
    return looked(keeper, (await late.writing()).proposal(keeper, [filled.value.draft]), filled.value.notes);
  },
  check: async (keeper, { drafts }) => (await late.writing()).proposal(keeper, drafts),
  write: async (keeper, { drafts, photos }) => {
    const hashes = await keepPhotos(keeper, photos ?? []);
    return (await late.writing()).write(keeper, drafts, hashes);
  },
  strike: async (keeper, { ids, reason }) => {
    const drafts = ids.map((entry) => ({ kind: 'strike', on: keeper.today, body: { entry, reason } }));
    return (await late.writing()).write(keeper, drafts);
  },
  sync: async (keeper) => {
    await keeper.sync(true);
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
  route: async (keeper, { text }) => (await late.route()).routeView(keeper, text),
  table: async (keeper, ask) => (await late.table()).tableView(keeper, ask),
  writeTable: async (keeper, ask) => {
    const entries = unwrap(await (await late.table()).tableEntries(keeper, ask));
    await keeper.write(entries);
    return { ids: entries.map(({ id }) => id) };
  },
  exportCsv: async (keeper) => (await late.sheets()).logbookCsv(keeper.state, keeper.desk().catalog),
  exportText: (keeper) => linesText(keeper.state.entries.inOrder()),
  outbox: async (keeper) => (await late.outbox()).outboxView(keeper),
  exportWaiting: async (keeper) => linesText(await keeper.waitingEntries()),
  signAs: async (keeper, { name }) => {
    await keeper.signAs(name);
    return null;
  },
};

const linesText = (entries: readonly Entry[]): string => `${entries.map(writeEntry).join('\n')}\n`;

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
