import { formatDate } from '../dates/index.ts';
import { entryWords } from '../logbook/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { Finding, SendOff } from '../sendoff/index.ts';
import type { SheetContext } from './context.ts';
import { Box, Cautions, hours, page } from './page.tsx';

const WORDS = { hold: 'HOLD', limits: 'CLEAR WITH LIMITS', clear: 'CLEAR' } as const;

/** The send-off sheet: the judgement, what stops the rig and what lifts it, the limits to keep to, what to do on leaving and on the way. */
export function sendOffSheet(context: SheetContext, sendOff: SendOff, plan: Plan | null): string {
  const { desk, rig, foot } = context;
  const { trip, judgement, sentence, findings } = sendOff;
  const open = findings.filter((finding) => !finding.waived);
  const of = (...kinds: Finding['kind'][]) => open.filter((finding) => kinds.includes(finding.kind));
  const waived = findings.filter((finding) => finding.waived);
  const passes = of('pass').length;
  const system = desk.outlookModel().scene.system;
  const onTheWay = (plan?.onTheWay ?? []).filter((job) => job.trip === trip.id);
  return page(
    { title: sentence, rig, on: formatDate(sendOff.now, 'long'), foot },
    <>
      <p>
        <span class="word">{WORDS[judgement]}</span>
      </p>
      <p>
        {trip.name}: {formatDate(trip.leave, 'short')} to {formatDate(trip.return, 'short')}, {trip.miles}.
      </p>
      <Findings title="What stops us" findings={of('stop')} context={context} />
      <Findings title="Unproven: look first" findings={of('unproven')} context={context} />
      <Findings title="Limits to keep to" findings={of('limit')} context={context} />
      {onTheWay.length ? (
        <>
          <h2>On leaving and on the way</h2>
          {onTheWay.map((job) => (
            <p key={job.item}>
              <Box />
              <b>{job.at === 'leaving' ? 'On leaving' : `At ${formatQuantity(job.at, { system, digits: 0 })}`}:</b>{' '}
              {job.title}
            </p>
          ))}
        </>
      ) : null}
      {waived.length ? (
        <>
          <h2>Overruled by the owner, for this trip only</h2>
          {waived.map((finding) => (
            <p key={finding.id}>
              {finding.text} <b>{finding.waived?.by}:</b> {finding.waived?.reason}
            </p>
          ))}
        </>
      ) : null}
      <p class="soft">{passes} checks passed.</p>
      <p>
        Walked round and signed: <span class="blank">&nbsp;</span>
      </p>
    </>,
  );
}

function Findings({
  title,
  findings,
  context,
}: {
  readonly title: string;
  readonly findings: readonly Finding[];
  readonly context: SheetContext;
}) {
  if (findings.length === 0) return null;
  const { state, catalog } = context.desk;
  return (
    <>
      <h2>{title}</h2>
      {findings.map((finding) => (
        <div class="finding" key={finding.id}>
          <h3>
            <Box />
            {finding.text}
          </h3>
          {finding.keepTo ? (
            <p>
              <b>Keep to:</b> {finding.keepTo}
            </p>
          ) : null}
          {finding.takes ? (
            <p>
              {finding.takes.action}
              {finding.takes.minutes > 0 ? `, ${hours(finding.takes.minutes)}` : ''}
              {finding.takes.tools.length
                ? `, with ${finding.takes.tools.join(', ')}${finding.takes.aboard === false ? ' (not all aboard)' : ''}`
                : ''}
              {finding.takes.hands === 'licensed' || finding.takes.hands === 'shop'
                ? `. By ${finding.takes.hands === 'shop' ? 'a shop' : 'licensed hands'}`
                : ''}
              .
            </p>
          ) : null}
          {finding.goWithLimits ? <p>Or go with limits: {finding.goWithLimits}</p> : null}
          <Cautions texts={finding.cautions} />
          <p class="soft">
            {[
              ...finding.evidence.flatMap((id) => {
                const entry = state.entries.get(id);
                return entry ? [`${formatDate(entry.on, 'day')}: ${entryWords(entry, { state, catalog })}`] : [];
              }),
              ...finding.sources.flatMap((id) => catalog.sources.get(id)?.title ?? []),
            ].join(' · ')}
          </p>
        </div>
      ))}
    </>
  );
}
