/**
 * What lives here: documents. Sheets to print (yard day, send-off, season, roadside, history, part labels) as self-contained HTML,
 * the calendar feed, spreadsheets in and out. They only tell what the desk has worked out; nothing is judged here.
 */
export { calendarFeed } from './calendar.ts';
export { canonicalLogbook, type SheetContext, sheetContext } from './context.ts';
export { logbookCsv } from './csv-out.ts';
export { historySheet } from './history.tsx';
export { labelSheet } from './labels.tsx';
export { styleOf } from './page.tsx';
export { roadsideSheet } from './roadside.tsx';
export { seasonSheet } from './season.tsx';
export { sendOffSheet } from './send-off.tsx';
export { DATE_ORDER_NAMES, DATE_ORDERS, type DateOrder } from './table/days.ts';
export { encodingOf, type TextEncoding } from './table/encoding.ts';
export { type DraftsFrom, type Judged, judgeTable, type Refused } from './table/judge.ts';
export {
  type Answers,
  type Mapped,
  type Mapping,
  mapTable,
  type Question,
  type QuestionAbout,
} from './table/mapping.ts';
export { DECIMALS, type Decimal } from './table/numbers.ts';
export { readTable, type Table } from './table/read.ts';
export { type ColumnRole, ROLES } from './table/roles.ts';
export { yardSheet } from './yard.tsx';
