/** Text that fits a terminal of 80 columns. */
export const WIDTH = 80;

const width = (text: string): number => [...text].length;

/** Lines of at most `columns`, broken at spaces; a word that is longer stands alone. */
export function wrap(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((one) => one !== '')) {
    if (line !== '' && width(line) + 1 + width(word) > columns) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}

/** A paragraph with a first-line lead and everything after it indented to the same place. */
export function paragraph(text: string, lead = '', columns = WIDTH): string {
  const indent = ' '.repeat(width(lead));
  return wrap(text, columns - width(lead))
    .map((line, index) => `${index === 0 ? lead : indent}${line}`)
    .join('\n');
}

const pad = (text: string, columns: number, right: boolean): string => {
  const fill = ' '.repeat(Math.max(0, columns - width(text)));
  return right ? fill + text : text + fill;
};

export interface Column {
  readonly head: string;
  /** Numbers stand to the right. */
  readonly right?: boolean;
  /** Takes what room is left, and wraps; one column of a table does. */
  readonly grows?: boolean;
}

/** A table of at most 80 columns: every column as wide as it must be, the growing one with what is left. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[], room = WIDTH): string {
  const natural = columns.map((column, index) =>
    Math.max(width(column.head), ...rows.map((row) => width(row[index] ?? ''))),
  );
  const gaps = 2 * (columns.length - 1);
  const fixed = natural.reduce((sum, size, index) => sum + (columns[index]!.grows ? 0 : size), 0);
  const sizes = natural.map((size, index) =>
    columns[index]!.grows ? Math.max(12, Math.min(size, room - gaps - fixed)) : size,
  );
  const draw = (cells: readonly string[]): string[] => {
    const wrapped = cells.map((cell, index) => (columns[index]!.grows ? wrap(cell, sizes[index]!) : [cell]));
    const height = Math.max(...wrapped.map((lines) => lines.length));
    return Array.from({ length: height }, (_, line) =>
      wrapped
        .map((lines, index) => pad(lines[line] ?? '', sizes[index]!, columns[index]!.right === true))
        .join('  ')
        .trimEnd(),
    );
  };
  const heads = columns.map((column) => column.head);
  const ruled = columns.map((_, index) => '─'.repeat(sizes[index]!));
  return [...draw(heads), ruled.join('  '), ...rows.flatMap(draw)].join('\n');
}

/** `2 h 40 min`. */
export function minutesText(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole} min`;
  return `${Math.floor(whole / 60)} h${whole % 60 ? ` ${String(whole % 60).padStart(2, '0')} min` : ''}`;
}

/** `$1,240`. */
export function moneyText(amount: number): string {
  return `$${Math.round(amount)
    .toString()
    .replace(/\B(?=(\d{3})+$)/g, ',')}`;
}
