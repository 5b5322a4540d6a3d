import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import type { Finding } from '../../sendoff/index.ts';
import { ask, frame, problemsOf } from '../replica/client.ts';
import type { FindingGroupView, GoView } from '../replica/views/go.ts';
import { Cautions } from '../shell/cautions.tsx';
import { openForm } from '../shell/form.ts';
import { Notches, OpenCircle } from '../shell/marks.tsx';
import { minutesText } from '../shell/minutes.ts';
import { Problems, sentence } from '../shell/problems.tsx';
import { say } from '../shell/said.tsx';
import { Grounds } from '../shell/why.tsx';

const HANDS: Readonly<Record<string, string>> = {
  owner: '',
  'careful owner': 'for careful hands',
  licensed: 'licensed work',
  shop: 'a shop’s work',
};

/** One duty that stops, limits or is not proven: what it is, what it takes, why, and the way to write it down. */
export function FindingItem({ group, view }: { readonly group: FindingGroupView; readonly view: GoView }) {
  const [first] = group.findings;
  const open = useSignal(false);
  const id = `why-${first!.id.replace(/[^a-z0-9]/gi, '-')}`;
  // What is in the way can be pressed at once; all else is one press away.
  const acts = first!.kind === 'stop' || (first!.kind === 'unproven' && first!.counts !== 'nothing');
  return (
    <li class="finding">
      <div class={acts ? 'finding-line' : ''}>
        <div>
          <h3>
            {first!.kind === 'unproven' && <OpenCircle />}
            {group.title}
          </h3>
          <p class="soft">
            {group.slack !== null && first!.kind !== 'unproven' && <Notches slack={group.slack} of={group.notches} />}
            {takesText(group)}{' '}
            <button
              type="button"
              class="why"
              aria-expanded={open.value}
              aria-controls={id}
              onClick={() => (open.value = !open.value)}
            >
              why<span class="sr">: {group.title}</span>
            </button>
          </p>
        </div>
        {acts && <Act group={group} />}
      </div>
      <div id={id} hidden={!open.value}>
        {open.value && <Why group={group} view={view} acts={acts} />}
      </div>
    </li>
  );
}

/** The one thing to press: the entry that would lift it. */
function Act({ group }: { readonly group: FindingGroupView }) {
  const [first] = group.findings;
  const entry = first!.takes?.entry;
  if (!entry || first!.waived) return null;
  const proof =
    entry.kind === 'work'
      ? {
          ...entry,
          parts: [
            ...new Set(
              group.findings.flatMap((finding) =>
                finding.takes?.entry?.kind === 'work' ? finding.takes.entry.parts : [],
              ),
            ),
          ],
        }
      : entry;
  return (
    <button
      type="button"
      class={first!.kind === 'stop' ? 'writes' : 'quiet writes'}
      aria-label={`Write it: ${group.title}`}
      onClick={() => openForm({ proof })}
    >
      {first!.kind === 'unproven' ? 'Look now' : 'Write it'}
    </button>
  );
}

function takesText(group: FindingGroupView): string {
  const [first] = group.findings;
  const { takes, keepTo } = first!;
  const miles = [...new Set(group.findings.flatMap(({ atMiles }) => atMiles ?? []))];
  if (miles.length > 1) return `At mile ${miles.slice(0, -1).join(', ')} and ${miles.at(-1)} of this trip.`;
  if (keepTo && first!.upkeep === null) return sentence(takes?.action ?? first!.text);
  if (first!.group === 'kit') return `${minutesText(group.minutes)} to gather.`;
  if (keepTo) return `${keepTo.charAt(0).toUpperCase()}${keepTo.slice(1)}.`;
  if (!takes || first!.kind === 'pass')
    return group.findings.length === 1 ? first!.text : `${group.findings.length} of them.`;
  const tools =
    takes.tools.length === 0
      ? ''
      : takes.aboard === true
        ? 'tools aboard'
        : takes.aboard === false
          ? 'not every tool is aboard'
          : '';
  return `${[minutesText(group.minutes), HANDS[takes.hands], tools].filter((text) => text !== '').join(', ')}.`;
}

function Why({
  group,
  view,
  acts,
}: {
  readonly group: FindingGroupView;
  readonly view: GoView;
  readonly acts: boolean;
}) {
  const [first] = group.findings;
  const { takes } = first!;
  return (
    <div class="why-in">
      {group.findings.map((finding) => (
        <p key={finding.id}>
          {finding.text}
          {finding.waived && ` Overruled by ${finding.waived.by}: ${finding.waived.reason}.`}
        </p>
      ))}
      {first!.goWithLimits && (
        <p>
          <b>A way to go with limits.</b> {first!.goWithLimits}
        </p>
      )}
      {takes && first!.kind !== 'pass' && first!.group !== 'kit' && (
        <dl class="grounds">
          <dt>What it takes</dt>
          <dd>{group.findings.length === 1 ? takes.action : group.title}</dd>
          {takes.tools.length > 0 && <dd>Tools: {takes.tools.join(', ')}</dd>}
          {takes.parts.length > 0 && <dd>Parts: {takes.parts.join('; ')}</dd>}
        </dl>
      )}
      <Cautions cautions={first!.cautions} />
      <Grounds
        evidence={group.findings.flatMap((finding) => finding.evidence)}
        sources={group.findings.flatMap((finding) => finding.sources)}
      />
      {!acts && first!.kind !== 'pass' && <Act group={group} />}
      {first!.kind === 'stop' && !first!.waived && view.trip && (
        <Overrule findings={group.findings} trip={view.trip.id} title={group.title} />
      )}
    </div>
  );
}

/** The owner may overrule a stop; the reason is written down, and it ends with the trip. */
function Overrule(props: { readonly findings: readonly Finding[]; readonly trip: string; readonly title: string }) {
  const reason = useRef<HTMLInputElement>(null);
  const open = useSignal(false);
  const problems = useSignal<readonly Problem[]>([]);
  const overrule = async (event: Event): Promise<void> => {
    event.preventDefault();
    const drafts = props.findings.map((finding) => ({
      kind: 'waive' as const,
      on: frame.value!.today,
      body: { trip: props.trip, finding: finding.id, reason: reason.current!.value },
    }));
    try {
      const { ids } = await ask('write', { drafts });
      say(`Overruled for this trip: ${props.title}`, ids);
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  if (!open.value) {
    return (
      <button type="button" class="quiet writes" onClick={() => (open.value = true)}>
        Overrule for this trip
      </button>
    );
  }
  return (
    <form class="overrule" onSubmit={overrule}>
      <label class="field">
        <span>Why do you go all the same?</span>
        <input ref={reason} required minLength={3} maxLength={500} />
      </label>
      <Problems problems={problems.value} />
      <div class="row">
        <button type="submit">Overrule, and write it down</button>
        <button type="button" class="quiet" onClick={() => (open.value = false)}>
          Leave it
        </button>
      </div>
    </form>
  );
}
