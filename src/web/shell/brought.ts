import { signal } from '@preact/signals';

/** A spreadsheet picked on one page and looked at on another. */
export const brought = signal<{ readonly name: string; readonly text: string } | null>(null);

export const isSpreadsheet = (file: File): boolean => /\.(csv|tsv|txt)$/i.test(file.name) || file.type === 'text/csv';
