/**
 * What lives here: documents. Sheets to print (yard day, send-off, season, roadside, history, part labels) as self-contained HTML,
 * the calendar feed, spreadsheets in and out. They only tell what the desk has worked out; nothing is judged here.
 */
export { calendarFeed } from './calendar.ts';
export { canonicalLogbook, type SheetContext, sheetContext } from './context.ts';
export { logbookCsv } from './csv-out.ts';
export { historySheet } from './history.tsx';
export { labelSheet } from './labels.tsx';
export { roadsideSheet } from './roadside.tsx';
export { seasonSheet } from './season.tsx';
export { sendOffSheet } from './send-off.tsx';
export { yardSheet } from './yard.tsx';
