import { formatDate } from '../../dates/index.ts';
import { placesText } from '../../logbook/index.ts';
import { type DutyTold, type Finding, findingsTold, type SendOff } from '../../sendoff/index.ts';
import { JUDGEMENTS } from './marks.ts';
import { minutesText, paragraph } from './text.ts';

export interface SendOffView {
  /** Passes too. */
  readonly all: boolean;
  readonly why: boolean;
}

/** The judgement for a terminal: duty by duty, in the order a person would act on them. */
export function sendOffText(sendOff: SendOff, title: string, view: SendOffView): string {
  const { trip } = sendOff;
  const told = findingsTold(sendOff.findings);
  const lines = [
    title,
    paragraph(`${trip.name}, ${formatDate(trip.leave)} to ${formatDate(trip.return)}, ${trip.miles}`),
    '',
    JUDGEMENTS[sendOff.judgement],
    paragraph(sendOff.sentence),
  ];
  if (sendOff.firstStep) lines.push(paragraph(`Begin with: ${sendOff.firstStep}`));
  const section = (heading: string, duties: readonly DutyTold[], tell: (duty: DutyTold) => string): void => {
    if (duties.length > 0) lines.push('', `${heading} (${duties.length})`, ...duties.map(tell));
  };
  section('What stops us', told.stops, (duty) => dutyText(duty, '⯃ ', view.why));
  section('Unproven', told.unproven, (duty) => dutyText(duty, '○ ', view.why));
  section('We may go with', told.limits, (duty) => dutyText(duty, '◇ ', view.why));
  section('To do on leaving', told.leaving, (duty) => roundText(duty, view.why));
  section('On the way', told.onTheWay, (duty) => roundText(duty, view.why));
  if (view.all) section('Passed', told.passes, (duty) => dutyText(duty, '· ', view.why));
  const waived = told.waived.flatMap((duty) => duty.findings);
  if (waived.length)
    lines.push(
      '',
      'Overruled for this trip',
      ...waived.map((finding) => paragraph(`${finding.text} ${finding.waived!.by}: “${finding.waived!.reason}”`, '  ')),
    );
  if (told.passes.length && !view.all) lines.push('', `${told.passes.length} duties pass: --all shows them.`);
  if (!view.why) lines.push('Cautions, evidence and sources of each: --why, or --json.');
  return `${lines.join('\n')}\n`;
}

/** One duty: a line for each part that stands otherwise than the others; once what is kept to, what it takes, and why. */
function dutyText({ title, places, findings }: DutyTold, mark: string, why: boolean): string {
  const [first] = findings;
  const details = new Set(findings.map(detailOf));
  const head =
    findings.length === 1
      ? [paragraph(first.text, mark)]
      : details.size === 1
        ? [paragraph(`${title} (${placesText(places)}): ${[...details][0]}`, mark)]
        : [paragraph(`${title} (${placesText(places)})`, mark), ...findings.map(({ text }) => paragraph(text, '    '))];
  const lines = [...head];
  if (first.keepTo) lines.push(paragraph(`Keep to: ${first.keepTo}`, '    '));
  if (first.takes && (first.kind !== 'limit' || why)) lines.push(paragraph(takesText(findings), '  → '));
  if (first.goWithLimits) lines.push(paragraph(`With limits: ${first.goWithLimits}`, '    '));
  if (why) lines.push(...whyLines(findings));
  return lines.join('\n');
}

/** What a finding says besides what it is about. */
function detailOf({ title, places, text }: Finding): string {
  const head = places.length === 1 ? `${title} (${places[0]}): ` : `${title}: `;
  return text.startsWith(head) ? text.slice(head.length) : text;
}

/** What is done on leaving or on the way: when, and no more. */
function roundText({ title, places, findings }: DutyTold, why: boolean): string {
  const where = places.length === 0 ? '' : ` (${placesText(places)})`;
  const lines = [paragraph(`${title}${where}: ${findings[0].keepTo}`, '◇ ')];
  if (why)
    lines.push(
      ...findings.map(({ text }) => paragraph(text, '    ')),
      paragraph(takesText(findings), '  → '),
      ...whyLines(findings),
    );
  return lines.join('\n');
}

function whyLines(findings: DutyTold['findings']): string[] {
  const cautions = new Set(findings.flatMap((finding) => finding.cautions));
  return [
    ...[...cautions].map((caution) => paragraph(`Caution: ${caution}`, '    ')),
    ...findings.map(({ id, evidence, sources }) =>
      paragraph(`${id}; evidence ${evidence.join(' ') || 'none'}; sources ${sources.join(', ') || 'none'}`, '    '),
    ),
  ];
}

function takesText(findings: DutyTold['findings']): string {
  const { takes } = findings[0];
  if (!takes) return '';
  const minutes = minutesText(takes.minutes);
  const action = findings.length > 1 ? `${minutes} each` : `${takes.action.replace(/\.$/, '')}, ${minutes}`;
  const aboard = takes.aboard === null ? '' : takes.aboard ? ' (aboard)' : ' (not all aboard)';
  const tools = takes.tools.length ? `. Tools: ${takes.tools.join('; ')}${aboard}` : '';
  const parts = takes.parts.length ? `. Parts: ${takes.parts.join('; ')}` : '';
  const hands = takes.hands === 'owner' ? '' : `. By a ${takes.hands === 'licensed' ? 'licensed hand' : takes.hands}`;
  return `${action}${tools}${parts}${hands}`;
}
