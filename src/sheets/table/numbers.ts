/** Numbers as people and programs write them into cells, and which sign sets off their decimals. */
import type { CellAt } from './days.ts';

export type Decimal = '.' | ',';
export const DECIMALS = ['.', ','] as const satisfies readonly Decimal[];

/** Digits in groups, whatever stands between them. */
const NUMBER = /\d+(?:[.,'’\s\u00a0\u202f]\d+)*/g;
const FORMS: Readonly<Record<Decimal, RegExp>> = {
  '.': /^(?:\d{1,3}(?:([,'’\s\u00a0\u202f])\d{3})(?:\1\d{3})*|\d+)(?:\.\d+)?$/,
  ',': /^(?:\d{1,3}(?:([.'’\s\u00a0\u202f])\d{3})(?:\1\d{3})*|\d+)(?:,\d+)?$/,
};

/** One number with a point and without thousands, or null where it is none in this manner of writing. */
function numberAs(written: string, decimal: Decimal): string | null {
  if (!FORMS[decimal].test(written)) return null;
  const [whole, part] = written.split(decimal) as [string, string?];
  return `${whole.replace(/\D/g, '')}${part === undefined ? '' : `.${part}`}`;
}

/** A cell with its numbers rewritten with a point and without thousands, all else left in place; null where one does not fit. */
export function plainNumber(cell: string, decimal: Decimal): string | null {
  let fits = true;
  const plain = cell.replace(NUMBER, (written) => {
    const read = numberAs(written, decimal);
    if (read === null) fits = false;
    return read ?? written;
  });
  return fits ? plain : null;
}

/** Which sign sets off decimals: the one that fits; or what is to be asked. */
export type DecimalFound = { readonly decimal: Decimal } | { readonly decimal: null; readonly text: string };

export function decimalOf(cells: readonly CellAt[]): DecimalFound {
  const quoted = ({ cell, line }: CellAt): string => `“${cell}” (line ${line})`;
  const only: Partial<Record<Decimal, CellAt>> = {};
  let both: CellAt | undefined;
  for (const at of cells) {
    const [point, comma] = [plainNumber(at.cell, '.'), plainNumber(at.cell, ',')];
    if (point === comma) continue;
    if (point === null) only[','] ??= at;
    else if (comma === null) only['.'] ??= at;
    else both ??= at;
  }
  if (only['.'] && only[',']) {
    const text = `Numbers are written in two ways: ${quoted(only['.'])} fits only a decimal point, ${quoted(only[','])} only a decimal comma.`;
    return { decimal: null, text };
  }
  if (only[',']) return { decimal: ',' };
  if (only['.'] || !both) return { decimal: '.' };
  const sign = both.cell.includes(',') ? 'comma' : 'point';
  return {
    decimal: null,
    text: `Does the ${sign} in ${quoted(both)} set off thousands or decimals? Both fit every line.`,
  };
}
