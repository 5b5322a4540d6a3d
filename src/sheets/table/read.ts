import Papa from 'papaparse';
import { fail, ok, type Result } from '../../problem/index.ts';
import { rolesOf } from './roles.ts';

/** A spreadsheet as text cells under a heading. Lines are counted as a spreadsheet program counts its rows, from 1. */
export interface Table {
  readonly delimiter: string;
  readonly columns: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  /** Lines that are no entries by themselves: sums, and the heading said again. */
  readonly passed: readonly { readonly line: number; readonly why: string }[];
}

/** A title and a blank line or two may stand above the heading. */
const HEADING_WITHIN = 10;
const TOTAL = /^(grand |sub[- ]?)?totals?( (cost|miles|paid|spent|for|of|in)\b.*)?( ?\d{4})?:?$|^sum:?$/i;

/**
 * CSV text as a table; the delimiter (comma, semicolon, tab) is found out, and so is the heading: the first of the upper lines that
 * names a day and most columns besides.
 *
 * Problems: `table.empty`, `table.torn` (a quote that is never closed, by line).
 */
export function readTable(text: string): Result<Table> {
  const plain = text.replace(/^\uFEFF/, '');
  const { data, errors, meta } = Papa.parse<string[]>(plain, { delimitersToGuess: [',', ';', '\t'] });
  const torn = errors.find((error) => error.type === 'Quotes');
  if (torn) {
    return fail({
      code: 'table.torn',
      what: 'A quotation mark is opened and not closed',
      where: `line ${(torn.row ?? 0) + 1}`,
      expected: 'a file saved as CSV',
    });
  }
  const lines = data
    .map((cells, index) => ({ line: index + 1, cells: cells.map((cell) => cell.trim()) }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const at = headingAt(lines.slice(0, HEADING_WITHIN).map(({ cells }) => cells));
  const heading = lines[at];
  const below = lines.slice(at + 1);
  if (!heading || below.length === 0) {
    return fail({
      code: 'table.empty',
      what: 'There is nothing below the heading',
      expected: 'a heading line, then one line an entry',
    });
  }
  const passed: Table['passed'][number][] = [];
  const rows = below.filter(({ line, cells }) => {
    const why = noEntry(cells, heading.cells);
    if (why) passed.push({ line, why });
    return why === null;
  });
  return ok({ delimiter: meta.delimiter, columns: heading.cells, rows, passed });
}

function headingAt(lines: readonly (readonly string[])[]): number {
  const named = lines.map((cells) => {
    const roles = rolesOf(cells);
    return roles.includes('date') ? roles.filter((role) => role !== '').length : 0;
  });
  const most = Math.max(0, ...named);
  // A date column alone says nothing: a title such as “Log to date” has one too.
  return most < 2 ? 0 : named.indexOf(most);
}

function noEntry(cells: readonly string[], heading: readonly string[]): string | null {
  const filled = cells.filter((cell) => cell !== '');
  if (filled.length > 1 && cells.every((cell, index) => cell === (heading[index] ?? ''))) return 'the heading again';
  return TOTAL.test(filled[0]!) ? 'a sum' : null;
}
