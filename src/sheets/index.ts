/**
 * What lives here: documents. Sheets to print (yard day, send-off, season, roadside, history, part labels) as self-contained HTML,
 * the calendar feed, spreadsheets in and out. They only tell what the desk has worked out; nothing is judged here.
 */
export { calendarFeed } from './calendar.ts';
export { canonicalLogbook, type SheetContext, sheetContext } from './context.ts';
export { SHEET_CSS } from './css.ts';
export { type Preview, previewTable } from './csv-in.ts';
export { logbookCsv } from './csv-out.ts';
export { historySheet } from './history.tsx';
export { labelSheet } from './labels.tsx';
export { roadsideSheet } from './roadside.tsx';
export { seasonSheet } from './season.tsx';
export { sendOffSheet } from './send-off.tsx';
export {
  type ColumnRole,
  type DateOrder,
  type Decimal,
  type Mapping,
  type Proposal,
  proposeMapping,
  readTable,
  type Table,
} from './table.ts';
export { yardSheet } from './yard.tsx';
