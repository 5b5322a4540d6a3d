import Papa from 'papaparse';
import type { Catalog } from '../catalog/index.ts';
import { cannotBeShown, type Entry, entryWords, type RigState, shownMiles } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';

const COLUMNS = [
  'date',
  'kind',
  'what',
  'part',
  'value',
  'unit',
  'trailer miles',
  'tow miles',
  'by',
  'struck',
  'note',
  'id',
] as const;

/**
 * The logbook as a spreadsheet (CSV, RFC 4180, with a heading), one line an entry, in the order of days, without what devices signed. For reading and
 * counting elsewhere; the complete form, which comes back in without loss, is JSON lines. Cells that a spreadsheet would take for a
 * formula are made text.
 */
export function logbookCsv(state: RigState, catalog: Catalog): string {
  const written = [...state.entries.values()].filter((entry) => entry.kind !== 'witness');
  const entries = written.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.id < b.id ? -1 : 1));
  const rows = entries.map((entry) => rowOf(entry, state, catalog));
  return Papa.unparse({ fields: [...COLUMNS], data: rows }, { newline: '\r\n', escapeFormulae: true });
}

/** One entry as its cells. One that breaks what they rest on is a line with its id, and not the end of the sheet. */
function rowOf(entry: Entry, state: RigState, catalog: Catalog): unknown[] {
  try {
    const value = amountOf(entry);
    const note = 'note' in entry.body ? (entry.body.note ?? '') : '';
    return [
      entry.on,
      entry.kind,
      entryWords(entry, { state, catalog }),
      'part' in entry.body ? (entry.body.part ?? '') : '',
      value?.value ?? '',
      value?.unit ?? '',
      shownMiles(entry, 'trailer') ?? '',
      shownMiles(entry, 'tow') ?? '',
      entry.by,
      state.struck.has(entry.id) ? 'struck' : state.aside.has(entry.id) ? 'set aside' : '',
      note,
      entry.id,
    ];
  } catch {
    return [entry.on, entry.kind, cannotBeShown(entry.id), '', '', '', '', '', entry.by, '', '', entry.id];
  }
}

function amountOf(entry: Entry): Quantity | undefined {
  if (entry.kind === 'reading') return entry.body.value;
  if (entry.kind === 'trip' || entry.kind === 'trip-done') return entry.body.miles;
  return undefined;
}
