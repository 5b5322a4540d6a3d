import { type Problem, problemText } from '../../problem/index.ts';
import type { Mapping } from '../../sheets/index.ts';
import type { Mapped } from '../mapping.ts';
import { paragraph } from './text.ts';

/** A line that would not be written, with its reasons. */
export interface Line {
  readonly line: number;
  readonly cells: readonly string[];
  readonly problems: readonly Problem[];
}

/** What an import of a spreadsheet would do. */
export interface TablePreview extends Pick<Mapping, 'dateOrder' | 'decimal' | 'units'> {
  /** Lines below the heading. */
  readonly lines: number;
  readonly columns: Mapped['names'];
  readonly leftOut: readonly string[];
  readonly accepted: readonly { readonly line: number; readonly said: string }[];
  /** Lines that the logbook has already. */
  readonly known: number;
  readonly rejected: readonly Line[];
}

const SHOWN_FIRST = 6;
const DAY_WORDS = { ymd: 'year, month, day', dmy: 'day, month, year', mdy: 'month, day, year' } as const;

/** The preview for a terminal: what the columns mean, what would be written, and every line that would not. */
export function tablePreviewText(preview: TablePreview, all: boolean): string {
  const { columns, leftOut, units, accepted, known, rejected } = preview;
  const lines = ['Columns'];
  for (const [role, name] of Object.entries(columns)) {
    const unit = role === 'odometer' ? units.odometer : role === 'value' ? units.value : undefined;
    const more = role === 'date' ? DAY_WORDS[preview.dateOrder] : unit;
    lines.push(paragraph(`${name}${more && !name.includes(`(${more})`) ? ` (${more})` : ''}`, `  ${role.padEnd(10)}`));
  }
  if (leftOut.length) lines.push(paragraph(leftOut.join(', '), '  left out  '));
  lines.push(`  decimals  set off by a ${preview.decimal === ',' ? 'comma' : 'point'}`);
  const shown = all ? accepted : accepted.slice(0, SHOWN_FIRST);
  if (accepted.length) lines.push('', `To be written: ${accepted.length} of ${preview.lines} lines`);
  lines.push(...shown.map(({ line, said }) => paragraph(said, `  line ${line}: `)));
  if (shown.length < accepted.length) lines.push(`  … and ${accepted.length - shown.length} more: --all shows them.`);
  if (known) lines.push('', `In the logbook already, passed over: ${known}`);
  if (rejected.length) lines.push('', `Not understood, or not possible: ${rejected.length}`);
  for (const { line, cells, problems } of rejected) {
    lines.push(paragraph(cells.filter(Boolean).join(' · ') || '(blank)', `  line ${line}: `));
    lines.push(...problems.map((problem) => paragraph(problemText(withoutLine(problem, line)), '    ! ')));
  }
  return `${lines.join('\n')}\n`;
}

/** The line stands above already. */
function withoutLine({ where, ...problem }: Problem, line: number): Problem {
  const rest = where?.replace(new RegExp(`^line ${line}(, )?`), '');
  return rest ? { ...problem, where: rest } : problem;
}
