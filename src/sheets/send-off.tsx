import { formatDate } from '../dates/index.ts';
import { type Entry, entryWords, placesText, shownMiles, type Teller } from '../logbook/index.ts';
import type { Plan } from '../plan/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import { type DutyTold, type Finding, findingsTold, type SendOff } from '../sendoff/index.ts';
import type { SheetContext } from './context.ts';
import { Box, Cautions, hours, Line, List, page, Tick } from './page.tsx';

const WORDS = { hold: 'HOLD', limits: 'CLEAR WITH LIMITS', clear: 'CLEAR' } as const;

/** The newest of the evidence is printed; the app shows all of it. */
const EVIDENCE_SHOWN = 2;

/** The send-off sheet: the judgement, what stops the rig and what lifts it, the limits to keep to, what to do on leaving and on the way. */
export function sendOffSheet(context: SheetContext, sendOff: SendOff, plan: Plan | null): string {
  const { rig, foot, mark } = context;
  const { trip, judgement, sentence, findings } = sendOff;
  const told = findingsTold(findings);
  const practice = [...told.unproven, ...told.limits].filter((duty) => duty.findings[0].group === 'practice');
  const kit = told.limits.filter((duty) => duty.findings[0].group === 'kit');
  const others = told.limits.filter((duty) => ![...practice, ...kit].includes(duty));
  return page(
    { title: sentence, rig, on: formatDate(sendOff.now, 'long'), foot, mark, size: 'arm' },
    <>
      <p>
        <span class="word">{WORDS[judgement]}</span>
      </p>
      <p>
        {trip.name}: {formatDate(trip.leave, 'short')} to {formatDate(trip.return, 'short')}, {trip.miles}.
      </p>
      <Duties title="What stops us" duties={told.stops} context={context} />
      <Duties
        title="Unproven: look first"
        duties={told.unproven.filter((duty) => duty.findings[0].counts !== 'nothing' && !practice.includes(duty))}
        context={context}
      />
      {others.length ? <h2>Limits to keep to</h2> : null}
      {others.map((duty) => (
        <Limit key={duty.key} duty={duty} />
      ))}
      {told.leaving.length ? <h2>On the morning of leaving</h2> : null}
      {told.leaving.map((duty) => (
        <Tick key={duty.key}>{[...new Set(duty.findings.map((one) => one.takes?.action ?? one.text))].join('; ')}</Tick>
      ))}
      <OnTheWay context={context} duties={told.onTheWay} trip={trip.id} plan={plan} />
      <Short title="Not aboard" texts={kit.flatMap((duty) => duty.findings.map((finding) => finding.text))} />
      <Short title="Not practised this season" texts={practice.map((duty) => duty.title)} />
      {told.waived.length ? <h2>Overruled by the owner, for this trip only</h2> : null}
      {told.waived
        .flatMap((duty) => duty.findings)
        .map((finding) => (
          <p key={finding.id}>
            {finding.text} <b>{finding.waived?.by}:</b> {finding.waived?.reason}
          </p>
        ))}
      <p class="soft">{told.passes.length} duties pass.</p>
      <Line label="Walked round by, day and hour" />
      <Line label="Signed" />
    </>,
  );
}

/** What a finding says besides what it is about, where it says that first. */
function detailOf({ title, places, text }: Finding): string {
  const head = places.length === 1 ? `${title} (${places[0]}): ` : `${title}: `;
  return text.startsWith(head) ? text.slice(head.length) : text;
}

/** One duty in one sentence where all its parts stand alike; else a sentence a part. */
function dutyTexts({ title, places, findings }: DutyTold): string[] {
  if (findings.length === 1) return [findings[0].text];
  const details = [...new Set(findings.map(detailOf))];
  return details.length === 1 ? [`${title} (${placesText(places)}): ${details[0]}`] : findings.map(({ text }) => text);
}

function Duties(props: {
  readonly title: string;
  readonly duties: readonly DutyTold[];
  readonly context: SheetContext;
}) {
  const { title, duties, context } = props;
  if (duties.length === 0) return null;
  return (
    <>
      <h2>{title}</h2>
      {duties.map((duty) => (
        <Duty key={duty.key} duty={duty} context={context} />
      ))}
    </>
  );
}

function Duty({ duty, context }: { readonly duty: DutyTold; readonly context: SheetContext }) {
  const { state, catalog } = context.desk;
  const { findings } = duty;
  const [first] = findings;
  const texts = dutyTexts(duty);
  // One sentence for several parts: a box for each.
  const apart = texts.length === 1 && duty.places.length > 1;
  const evidence = findings.flatMap((finding) =>
    finding.evidence.slice(-EVIDENCE_SHOWN).flatMap((id) => {
      const entry = state.entries.get(id);
      return entry ? [`${formatDate(entry.on, 'day')}: ${evidenceWords(entry, finding, { state, catalog })}`] : [];
    }),
  );
  const sources = findings.flatMap((finding) => finding.sources.flatMap((id) => catalog.sources.get(id)?.title ?? []));
  return (
    <div class="finding">
      {texts.map((text) => (
        <h3 class={apart ? '' : 'tick'} key={text}>
          {apart ? null : <Box />}
          {text}
        </h3>
      ))}
      {apart ? (
        <p class="places">
          {duty.places.map((place) => (
            <span key={place}>
              <Box />
              {place}
            </span>
          ))}
        </p>
      ) : null}
      {first.keepTo ? (
        <p>
          <b>Keep to:</b> {first.keepTo}
        </p>
      ) : null}
      {first.takes ? <p>{takesText(findings)}</p> : null}
      {first.goWithLimits ? <p>Or go with limits: {first.goWithLimits}</p> : null}
      <Cautions texts={findings.flatMap((finding) => finding.cautions)} />
      <p class="soft">{[...new Set([...evidence, ...sources])].join(' · ')}</p>
    </div>
  );
}

/** Of an entry what it proves: of work on other parts, no more than the odometer. */
function evidenceWords(entry: Entry, { part, parts, upkeep }: Finding, teller: Teller): string {
  const others =
    entry.kind === 'work' &&
    entry.body.done.every((done) => done.part !== part && !parts.includes(done.part) && done.upkeep !== upkeep);
  const shown = others ? (shownMiles(entry, 'trailer') ?? shownMiles(entry, 'tow')) : undefined;
  if (shown !== undefined) return `odometer ${formatQuantity({ value: shown, unit: 'mi' }, { digits: 1 })}`;
  return entryWords(entry, { ...teller, about: { part, upkeep } });
}

function takesText(findings: DutyTold['findings']): string {
  const takes = findings[0].takes!;
  const minutes = takes.minutes > 0 ? hours(takes.minutes) : '';
  const what =
    findings.length > 1 ? `${minutes} each` : [takes.action.replace(/\.$/, ''), minutes].filter(Boolean).join(', ');
  const aboard = takes.aboard === false ? ' (not all aboard)' : '';
  const tools = takes.tools.length ? `, with ${takes.tools.join(', ')}${aboard}` : '';
  const hands = { licensed: '. By licensed hands', shop: '. By a shop' }[takes.hands as string] ?? '';
  return `${what}${tools}${hands}.`;
}

/** A number to keep to, or a risk that is taken. */
function Limit({ duty }: { readonly duty: DutyTold }) {
  const keepTo = duty.findings[0].keepTo;
  return (
    <div class="finding">
      {dutyTexts(duty).map((text, index) => (
        <Tick key={text}>
          {index === 0 && keepTo ? <b>{keepTo.charAt(0).toUpperCase() + keepTo.slice(1)}. </b> : null}
          {text}
        </Tick>
      ))}
    </div>
  );
}

/** What falls due between here and home, by miles and by days: what the findings say, and what the plan puts there besides. */
function OnTheWay(props: {
  readonly context: SheetContext;
  readonly duties: readonly DutyTold[];
  readonly trip: string;
  readonly plan: Plan | null;
}) {
  const { context, duties, trip, plan } = props;
  const system = context.desk.outlookModel().scene.system;
  const known = new Set(duties.map((duty) => duty.title));
  const planned = (plan?.onTheWay ?? []).flatMap(({ at, title, trip: of }) =>
    of !== trip || at === 'leaving' || known.has(title)
      ? []
      : [`At ${formatQuantity(at, { system, digits: 0 })}: ${title}`],
  );
  const found = duties.map(({ title, places, findings }) => {
    const where = places.length ? ` (${placesText(places)})` : '';
    const when = findings[0].keepTo ?? '';
    return `${when.charAt(0).toUpperCase()}${when.slice(1)}: ${title}${where}`;
  });
  const lines = [...new Set([...found, ...planned])];
  return lines.length ? (
    <>
      <h2>On the way</h2>
      {lines.map((line) => (
        <Tick key={line}>{line}</Tick>
      ))}
    </>
  ) : null;
}

function Short({ title, texts }: { readonly title: string; readonly texts: readonly string[] }) {
  return texts.length ? (
    <>
      <h2>{title}</h2>
      <List items={texts} />
    </>
  ) : null;
}
