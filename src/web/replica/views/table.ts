import { type Entry, partsOf } from '../../../logbook/index.ts';
import { type Problem, type Result, unwrap } from '../../../problem/index.ts';
import {
  type Answers,
  type ColumnRole,
  type DateOrder,
  type Decimal,
  encodingOf,
  type Judged,
  judgeTable,
  mapTable,
  type Question,
  readTable,
} from '../../../sheets/index.ts';
import type { Keeper } from '../keeper.ts';
import { prepare } from '../writing.ts';

/** A spreadsheet as it was saved, and what its owner said of it so far. */
export interface TableAsk {
  readonly file: Blob;
  /** A role by column, where the owner gave any: then all of them are the owner's. */
  readonly roles: readonly (ColumnRole | '')[] | null;
  readonly dateOrder: DateOrder | null;
  readonly decimal: Decimal | null;
  readonly odometerUnit: Answers['odometerUnit'] | null;
  readonly readingUnit: Answers['readingUnit'] | null;
  /** Lines that the owner leaves out knowingly. */
  readonly leaveOut: readonly number[];
}

export interface TableView extends Pick<Judged, 'accepted' | 'known' | 'rejected' | 'passed'> {
  readonly columns: readonly { readonly name: string; readonly sample: string; readonly role: ColumnRole | '' }[];
  readonly questions: readonly Question[];
  readonly lines: number;
  /** Nothing is on the rig yet, so hardly a line can be understood. */
  readonly bare: boolean;
}

/** What the file would write. Nothing is written. */
export async function tableView(keeper: Keeper, ask: TableAsk): Promise<TableView> {
  return (await judged(keeper, ask)).view;
}

/** Every line that is not left out as entries; or every reason against, and none. */
export async function tableEntries(keeper: Keeper, ask: TableAsk): Promise<Result<Entry[]>> {
  const { view, made } = await judged(keeper, ask);
  const open = view.questions.flatMap(({ about, text, answered }): Problem[] =>
    answered ? [] : [{ code: 'web.table-open', what: text.replace(/[.?]$/, ''), where: about }],
  );
  return open.length > 0 ? { ok: false, problems: open } : made;
}

async function judged(keeper: Keeper, ask: TableAsk): Promise<{ view: TableView; made: Result<Entry[]> }> {
  const bytes = new Uint8Array(await ask.file.arrayBuffer());
  const text = new TextDecoder(unwrap(encodingOf(bytes))).decode(bytes);
  const table = unwrap(readTable(text));
  const { mapping, questions, roles } = mapTable(table, {
    ...(ask.roles === null ? {} : { roles: ask.roles }),
    dateOrder: ask.dateOrder ?? undefined,
    decimal: ask.decimal ?? undefined,
    odometerUnit: ask.odometerUnit ?? undefined,
    readingUnit: ask.readingUnit ?? undefined,
  });
  const base = {
    columns: table.columns.map((name, index) => ({
      name,
      sample: table.rows.find(({ cells }) => (cells[index] ?? '') !== '')?.cells[index] ?? '',
      role: roles[index]!,
    })),
    questions,
    lines: table.rows.length,
    bare: partsOf(keeper.state).length === 0,
  };
  if (mapping === null)
    return { view: { ...base, accepted: [], known: 0, rejected: [], passed: [] }, made: { ok: true, value: [] } };
  const { made, ...lines } = judgeTable(table, mapping, {
    state: keeper.state,
    catalog: keeper.desk().catalog,
    today: keeper.today,
    leaveOut: ask.leaveOut,
    prepare: (from) =>
      prepare(
        keeper,
        from.flatMap(({ drafts, where }) => drafts.map((draft) => ({ ...draft, where }))),
      ),
  });
  return { view: { ...base, ...lines }, made };
}
