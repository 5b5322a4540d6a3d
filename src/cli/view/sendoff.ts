import { formatDate } from '../../dates/index.ts';
import type { Finding, SendOff } from '../../sendoff/index.ts';
import { JUDGEMENTS } from './marks.ts';
import { minutesText, paragraph } from './text.ts';

export interface SendOffView {
  /** Passes too. */
  readonly all: boolean;
  readonly why: boolean;
}

const HEADINGS = { stop: 'What stops us', unproven: 'Unproven', limit: 'We may go with', pass: 'Passed' } as const;
const MARKS = { stop: '⯃ ', unproven: '○ ', limit: '◇ ', pass: '· ' } as const;

/** The judgement for a terminal, findings in the order a person would act on them. */
export function sendOffText(sendOff: SendOff, title: string, view: SendOffView): string {
  const { trip, findings } = sendOff;
  const lines = [
    title,
    paragraph(`${trip.name}, ${formatDate(trip.leave)} to ${formatDate(trip.return)}, ${trip.miles}`),
    '',
    JUDGEMENTS[sendOff.judgement],
    paragraph(sendOff.sentence),
  ];
  if (sendOff.firstStep) lines.push(paragraph(`Begin with: ${sendOff.firstStep}`));
  for (const kind of ['stop', 'unproven', 'limit', 'pass'] as const) {
    const found = findings.filter((finding) => finding.kind === kind && !finding.waived);
    if (found.length === 0 || (kind === 'pass' && !view.all)) continue;
    lines.push('', `${HEADINGS[kind]} (${found.length})`);
    lines.push(...found.map((finding) => findingText(finding, view.why)));
  }
  const waived = findings.filter((finding) => finding.waived);
  if (waived.length)
    lines.push(
      '',
      'Overruled for this trip',
      ...waived.map((finding) => paragraph(`${finding.text} ${finding.waived!.by}: “${finding.waived!.reason}”`, '  ')),
    );
  const passed = findings.filter((finding) => finding.kind === 'pass').length;
  if (passed && !view.all) lines.push('', `${passed} checks passed: --all shows them.`);
  if (!view.why) lines.push('Cautions, evidence and sources of each: --why, or --json.');
  return `${lines.join('\n')}\n`;
}

function findingText(finding: Finding, why: boolean): string {
  const lines = [paragraph(finding.text, MARKS[finding.kind])];
  if (finding.keepTo) lines.push(paragraph(`Keep to: ${finding.keepTo}`, '    '));
  if (finding.takes && finding.kind !== 'limit') lines.push(paragraph(takesText(finding), '  → '));
  if (finding.goWithLimits) lines.push(paragraph(`With limits: ${finding.goWithLimits}`, '    '));
  if (!why) return lines.join('\n');
  if (finding.takes && finding.kind === 'limit') lines.push(paragraph(takesText(finding), '  → '));
  for (const caution of finding.cautions) lines.push(paragraph(`Caution: ${caution}`, '    '));
  lines.push(
    paragraph(
      `${finding.id}; evidence ${finding.evidence.join(' ') || 'none'}; sources ${finding.sources.join(', ') || 'none'}`,
      '    ',
    ),
  );
  return lines.join('\n');
}

function takesText({ takes }: Finding): string {
  if (!takes) return '';
  const aboard = takes.aboard === null ? '' : takes.aboard ? ' (aboard)' : ' (not all aboard)';
  const tools = takes.tools.length ? `; tools: ${takes.tools.join(', ')}${aboard}` : '';
  const parts = takes.parts.length ? `; parts: ${takes.parts.join(', ')}` : '';
  const hands = takes.hands === 'owner' ? '' : `; by a ${takes.hands === 'licensed' ? 'licensed hand' : takes.hands}`;
  return `${takes.action.replace(/\.$/, '')}, ${minutesText(takes.minutes)}${tools}${parts}${hands}`;
}
