import { type Draft, ENTRY_VERSION, type Entry, partsOf, writeEntry } from '../../../logbook/index.ts';
import { type Problem, type Result, unwrap } from '../../../problem/index.ts';
import {
  type ColumnRole,
  type DateOrder,
  type Decimal,
  type Mapping,
  previewTable,
  proposeMapping,
  readTable,
  type Table,
} from '../../../sheets/index.ts';
import type { Keeper } from '../keeper.ts';

/** A spreadsheet as text, and what its owner said of it so far. */
export interface TableAsk {
  readonly text: string;
  /** A role by column, where the owner gave any: then all of them are the owner's. */
  readonly roles: readonly (ColumnRole | '')[] | null;
  readonly dateOrder: DateOrder | null;
  readonly decimal: Decimal | null;
  readonly odometerUnit: 'mi' | 'km' | null;
}

export interface TableView {
  readonly columns: readonly { readonly name: string; readonly sample: string; readonly role: ColumnRole | '' }[];
  readonly questions: readonly { readonly about: string; readonly text: string }[];
  readonly lines: number;
  readonly accepted: readonly { readonly line: number; readonly said: string }[];
  /** Lines that the logbook has already: bringing a file twice is harmless. */
  readonly known: number;
  readonly rejected: readonly {
    readonly line: number;
    readonly cells: readonly string[];
    readonly problems: readonly Problem[];
  }[];
  /** Nothing is on the rig yet, so hardly a line can be understood. */
  readonly bare: boolean;
}

/** What the file would write. Nothing is written. */
export function tableView(keeper: Keeper, ask: TableAsk): TableView {
  return judged(keeper, ask).view;
}

/** Every line as entries; or every reason against, and none. */
export function tableEntries(keeper: Keeper, ask: TableAsk): Result<Entry[]> {
  const { view, made } = judged(keeper, ask);
  const open = view.questions.map(
    ({ about, text }): Problem => ({ code: 'web.table-open', what: text.replace(/[.?]$/, ''), where: about }),
  );
  const [first, ...more] = [...open, ...view.rejected.flatMap(({ problems }) => problems)];
  return first === undefined ? made : { ok: false, problems: [first, ...more] };
}

function judged(keeper: Keeper, ask: TableAsk): { view: TableView; made: Result<Entry[]> } {
  const table = unwrap(readTable(ask.text));
  const { mapping, questions, roles } = mapped(table, ask);
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
  const none: Result<Entry[]> = { ok: true, value: [] };
  if (mapping === null || questions.length > 0)
    return { view: { ...base, accepted: [], known: 0, rejected: [] }, made: none };

  const { catalog } = keeper.desk();
  const preview = previewTable(table, mapping, { state: keeper.state, catalog, today: keeper.today });
  const there = new Set(
    [...keeper.state.entries.values()].filter(({ id }) => !keeper.state.struck.has(id)).map(contentOf),
  );
  const fresh = preview.accepted
    .filter(({ drafts }) => !drafts.every((draft) => there.has(contentOf(asEntry(keeper, draft)))))
    // Older days first: an odometer is judged by what went before.
    .sort((a, b) => (a.drafts[0]!.on < b.drafts[0]!.on ? -1 : a.drafts[0]!.on > b.drafts[0]!.on ? 1 : a.line - b.line));
  const made = keeper.prepare(
    fresh.flatMap(({ line, drafts }) => drafts.map((draft) => ({ ...draft, where: `line ${line}` }))),
  );
  const refused = notAdmitted(table, made.ok ? [] : made.problems);
  const not = new Set(refused.map(({ line }) => line));
  return {
    view: {
      ...base,
      accepted: fresh
        .filter(({ line }) => !not.has(line))
        .map(({ line, said }) => ({ line, said }))
        .sort((a, b) => a.line - b.line),
      known: preview.accepted.length - fresh.length,
      rejected: [...preview.rejected, ...refused].sort((a, b) => a.line - b.line),
    },
    made,
  };
}

/** The table's own reading of its heading, or the owner's; what neither tells is asked. */
function mapped(table: Table, ask: TableAsk) {
  const { roles: said } = ask;
  const named =
    said === null ? table : { ...table, columns: table.columns.map((_, index) => said[index] || `${index}`) };
  const { mapping, found, questions } = proposeMapping(named);
  const roles = table.columns.map(
    (_, index): ColumnRole | '' =>
      (Object.entries(found).find(([, column]) => column === index)?.[0] as ColumnRole | undefined) ?? '',
  );
  const units: Mapping['units'] = {
    ...unitOf('value', table.columns[found.value ?? -1]),
    ...unitOf('odometer', table.columns[found.odometer ?? -1]),
    ...(ask.odometerUnit === null ? {} : { odometer: ask.odometerUnit }),
  };
  const answered: Readonly<Record<string, unknown>> = {
    'date order': ask.dateOrder,
    decimal: ask.decimal,
    'odometer unit': units.odometer,
  };
  return {
    roles,
    questions: questions.filter(({ about }) => !answered[about]),
    mapping: mapping && {
      columns: mapping.columns,
      dateOrder: ask.dateOrder ?? mapping.dateOrder,
      decimal: ask.decimal ?? mapping.decimal,
      units: { ...mapping.units, ...units },
    },
  };
}

/** `Pressure (psi)` gives its unit, whatever role the owner gave the column. */
function unitOf(role: 'value' | 'odometer', heading = ''): Mapping['units'] {
  const found =
    /[([]\s*([^)\]]+?)\s*[)\]]/.exec(heading)?.[1] ??
    /\b(psi|kpa|bar|miles|mi|km|volts?)\b/i.exec(heading)?.[1]?.toLowerCase();
  if (found === undefined) return {};
  return { [role]: found === 'miles' ? 'mi' : found.startsWith('volt') ? 'V' : found };
}

function notAdmitted(table: Table, problems: readonly Problem[]): TableView['rejected'] {
  const byLine = new Map<number, Problem[]>();
  for (const problem of problems) {
    const line = Number(/^line (\d+)/.exec(problem.where ?? '')?.[1]);
    byLine.set(line, [...(byLine.get(line) ?? []), problem]);
  }
  return [...byLine].map(([line, of]) => ({
    line,
    cells: table.rows.find((row) => row.line === line)?.cells ?? [],
    problems: of,
  }));
}

/** A draft as an entry of nobody, to be compared by what it says. */
const asEntry = (keeper: Keeper, draft: Draft): Entry =>
  ({ id: '', rig: keeper.rig, at: '', by: '', v: ENTRY_VERSION, ...draft }) as Entry;

/** What an entry says, whoever wrote it whenever. */
const contentOf = (entry: Entry): string => writeEntry({ ...entry, id: '', at: '', by: '' } as Entry);
