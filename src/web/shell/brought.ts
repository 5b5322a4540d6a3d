import { signal } from '@preact/signals';

/** A spreadsheet picked on one page and looked at on another. */
export const brought = signal<File | null>(null);

/** Workbooks too: that they must be saved as text is said where spreadsheets are read. */
export const isSpreadsheet = (file: File): boolean =>
  /\.(csv|tsv|txt|xlsx?|ods)$/i.test(file.name) || file.type === 'text/csv';
