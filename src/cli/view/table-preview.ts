import { type Problem, problemText } from '../../problem/index.ts';
import { type ColumnRole, DATE_ORDER_NAMES, type Judged, type Mapping } from '../../sheets/index.ts';
import { paragraph } from './text.ts';

/** What an import of a spreadsheet would do. */
export interface TablePreview
  extends Pick<Mapping, 'dateOrder' | 'decimal'>,
    Pick<Judged, 'accepted' | 'known' | 'passed' | 'rejected'> {
  /** Lines below the heading, sums left aside. */
  readonly lines: number;
  /** In the order of the file; a column without a role is left out. */
  readonly columns: readonly { readonly name: string; readonly role: ColumnRole | ''; readonly unit?: string }[];
}

const SHOWN_FIRST = 6;

/** The preview for a terminal: what the columns mean, what would be written, and every line that would not. */
export function tablePreviewText(preview: TablePreview, all: boolean): string {
  const { columns, accepted, known, passed, rejected } = preview;
  const lines = ['Columns'];
  for (const { name, role, unit } of columns) {
    const more = role === 'date' ? DATE_ORDER_NAMES[preview.dateOrder] : unit;
    const told = `${name}${more && !name.includes(`(${more})`) ? ` (${more})` : ''}`;
    if (role) lines.push(paragraph(told, `  ${role.padEnd(13)}`));
  }
  const leftOut = columns.filter(({ name, role }) => role === '' && name !== '').map(({ name }) => name);
  if (leftOut.length) lines.push(paragraph(leftOut.join(', '), '  left out     '));
  lines.push(`  decimals     set off by a ${preview.decimal === ',' ? 'comma' : 'point'}`);
  const shown = all ? accepted : accepted.slice(0, SHOWN_FIRST);
  if (accepted.length) lines.push('', `To be written: ${accepted.length} of ${preview.lines} lines`);
  lines.push(...shown.map(({ line, said }) => paragraph(said, `  line ${line}: `)));
  if (shown.length < accepted.length) lines.push(`  … and ${accepted.length - shown.length} more: --all shows them.`);
  if (known) lines.push('', `In the logbook already, passed over: ${known}`);
  if (passed.length) lines.push('', 'Passed over');
  lines.push(...passed.map(({ line, why }) => `  line ${line}: ${why}`));
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
