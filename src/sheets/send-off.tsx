import { formatDate } from '../dates/index.ts';
import { entryWords } from '../logbook/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { Finding, SendOff } from '../sendoff/index.ts';
import type { SheetContext } from './context.ts';
import { Box, Cautions, hours, List, page } from './page.tsx';

const WORDS = { hold: 'HOLD', limits: 'CLEAR WITH LIMITS', clear: 'CLEAR' } as const;

/** The newest of the evidence is printed; the app shows all of it. */
const EVIDENCE_SHOWN = 2;

/** The send-off sheet: the judgement, what stops the rig and what lifts it, the limits to keep to, what to do on leaving and on the way. */
export function sendOffSheet(context: SheetContext, sendOff: SendOff, plan: Plan | null): string {
  const { desk, rig, foot } = context;
  const { trip, judgement, sentence, findings } = sendOff;
  const open = findings.filter((finding) => !finding.waived);
  const of = (...kinds: Finding['kind'][]) => open.filter((finding) => kinds.includes(finding.kind));
  const waived = findings.filter((finding) => finding.waived);
  const passes = of('pass').length;
  const unproven = of('unproven').filter((finding) => finding.group !== 'practice');
  const system = desk.outlookModel().scene.system;
  const onTheWay = (plan?.onTheWay ?? []).filter((job) => job.trip === trip.id && job.at !== 'leaving');
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
      <Findings
        title="Unproven: look first"
        findings={unproven.filter((finding) => finding.counts !== 'nothing')}
        context={context}
      />
      <Limits findings={of('limit')} />
      {onTheWay.length ? (
        <>
          <h2>On the way</h2>
          {onTheWay.map((job) => (
            <p key={job.item}>
              <Box />
              <b>{job.at === 'leaving' ? 'On leaving' : `At ${formatQuantity(job.at, { system, digits: 0 })}`}:</b>{' '}
              {job.title}
            </p>
          ))}
        </>
      ) : null}
      <Short
        title="Not aboard"
        texts={of('limit')
          .filter((finding) => finding.group === 'kit')
          .map((finding) => finding.text)}
      />
      <Short
        title="Not practised this season"
        texts={open
          .filter((finding) => finding.group === 'practice' && finding.kind !== 'pass')
          .map((finding) => finding.takes?.action ?? finding.text)}
      />
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
      {findings.map((finding, i) => (
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
              {finding.takes.action.replace(/\.$/, '')}
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
          {finding.cautions.join() === findings[i - 1]?.cautions.join() && finding.cautions.length > 0 ? (
            <p>
              <b>Take care</b> as above.
            </p>
          ) : (
            <Cautions texts={finding.cautions} />
          )}
          <p class="soft">
            {[
              ...finding.evidence.slice(-EVIDENCE_SHOWN).flatMap((id) => {
                const entry = state.entries.get(id);
                const about = { part: finding.part, upkeep: finding.upkeep };
                return entry ? [`${formatDate(entry.on, 'day')}: ${entryWords(entry, { state, catalog, about })}`] : [];
              }),
              ...finding.sources.flatMap((id) => catalog.sources.get(id)?.title ?? []),
            ].join(' · ')}
          </p>
        </div>
      ))}
    </>
  );
}

/** What is kept to on the way; what is done on leaving stands in a list of its own to tick. */
function Limits({ findings }: { readonly findings: readonly Finding[] }) {
  const own = findings.filter((finding) => finding.group !== 'kit' && finding.group !== 'practice');
  const leaving = own.filter((finding) => finding.onLeaving);
  const others = own.filter((finding) => !leaving.includes(finding));
  return (
    <>
      {others.length ? <h2>Limits to keep to</h2> : null}
      {others.map((finding) => (
        <p class="finding" key={finding.id}>
          <Box />
          {finding.keepTo ? <b>{finding.keepTo.charAt(0).toUpperCase() + finding.keepTo.slice(1)}. </b> : null}
          {finding.text}
        </p>
      ))}
      {leaving.length ? <h2>On the morning of leaving</h2> : null}
      {leaving.map((finding) => (
        <p key={finding.id}>
          <Box />
          {finding.takes?.action ?? finding.text}
        </p>
      ))}
    </>
  );
}

function Short({ title, texts }: { readonly title: string; readonly texts: readonly string[] }) {
  return texts.length ? (
    <>
      <h2>{title}</h2>
      <List items={texts} />
    </>
  ) : null;
}
