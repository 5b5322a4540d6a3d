import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import './go.css';
import { useAnswer } from '../replica/client.ts';
import type { FindingGroupView, GoView, TripChoice } from '../replica/views/go.ts';
import type { MarginsView } from '../replica/views/margins.ts';
import { openForm } from '../shell/form.ts';
import { formsComeAlong } from '../shell/form-host.tsx';
import { JudgementMark } from '../shell/marks.tsx';
import { NotYet, Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { FindingItem } from './finding.tsx';
import { MarginTable } from './margins.tsx';

/** What a person has not practised says nothing of the rig: told apart, and never in the way. */
const isOfRig = ({ findings }: FindingGroupView): boolean => findings[0]?.group !== 'practice';

/** Can we go? The judgement on one trip, and everything it rests on. */
export function Go() {
  const asked = route.value.rest[0] ?? null;
  const { answer, problems, working } = useAnswer('go', { trip: asked });
  const margins = useAnswer('margins', {});
  const isThere = answer !== null;
  useEffect(() => {
    if (isThere) void formsComeAlong();
  }, [isThere]);
  // Both are there within the same moment: shown together, nothing on the page moves.
  if (!answer || (margins.answer === null && margins.working)) {
    return (
      <>
        <Title>Can we go?</Title>
        <NotYet problems={problems} doing="Working it out …" />
      </>
    );
  }
  const practice = [...answer.unproven, ...answer.limits].filter((group) => !isOfRig(group));
  return (
    <div class={working ? 'go working' : 'go'} aria-busy={working}>
      <div class="go-head">
        {answer.judgement && <JudgementMark judgement={answer.judgement} />}
        <Title>{answer.sentence}</Title>
      </div>
      <TripLine view={answer} />
      {answer.problems.length > 0 && <NoTrip view={answer} />}
      <div class="go-columns">
        <div>
          <Section title="What stops us" groups={answer.stops} view={answer} />
          <Section title="Unproven" groups={answer.unproven.filter(isOfRig)} view={answer} first={answer.firstStep} />
          <Leaving view={answer} />
        </div>
        <div>
          <Section title="We may go with" groups={answer.limits.filter(isOfRig)} view={answer} />
          <Section title="On the way" groups={answer.onTheWay} view={answer} />
          <Section title="Overruled for this trip" groups={answer.waived} view={answer} />
          {answer.trip && margins.answer && <Margins view={margins.answer} />}
          <Folded title="Not practised lately" groups={practice} view={answer} />
          <Folded title="In order for this trip" groups={answer.passes} view={answer} />
        </div>
      </div>
    </div>
  );
}

function TripLine({ view }: { readonly view: GoView }) {
  const { trip, trips } = view;
  if (!trip) return null;
  return (
    <div class="trip-line">
      <label>
        <span class="sr">Trip</span>
        <select onChange={(event) => (location.hash = linkTo('go', event.currentTarget.value))}>
          {trips.map((one) => (
            <option key={one.id} value={one.id} selected={one.id === trip.id}>
              {one.name}
              {one.tentative ? ' (perhaps)' : ''}
            </option>
          ))}
        </select>
      </label>
      <p class="soft">
        {trip.leave} to {trip.home}, {whenText(trip)}. {trip.miles}.
      </p>
      <div class="row wrap trip-do">
        {trip.inDays < 0 && (
          <button
            type="button"
            class="writes"
            onClick={() => openForm({ kind: 'trip-done', known: { trip: trip.id, left: trip.left } })}
          >
            We are back
          </button>
        )}
        {view.leaving.length === 0 && !view.bare && (
          <a class="button quiet writes" href={linkTo('round', trip.id)}>
            Walk the round
          </a>
        )}
        <SheetLink sheet="send-off" text="Print the send-off" of={trip.id} />
      </div>
    </div>
  );
}

function whenText({ inDays }: TripChoice): string {
  if (inDays < 0) return `day ${1 - inDays} of it`;
  if (inDays === 0) return 'leaving today';
  return inDays === 1 ? 'leaving tomorrow' : `in ${inDays} days`;
}

/** Nothing to judge: what it takes to have something, and no red about it. */
function NoTrip({ view }: { readonly view: GoView }) {
  const planned = view.trip !== null;
  return (
    <>
      {planned ? (
        <Problems problems={view.problems} />
      ) : (
        <p class="lead">
          Write down where you go, from when to when, and how many miles: then this page says what stops you, and what
          it takes.
        </p>
      )}
      <p class="row wrap trip-do">
        <button type="button" class="writes" onClick={() => openForm({ kind: 'trip' })}>
          Plan a trip
        </button>
        {view.bare && (
          <a class="button quiet writes" href={linkTo('walk')}>
            Walk round the rig
          </a>
        )}
      </p>
    </>
  );
}

function Section(props: {
  readonly title: string;
  readonly groups: readonly FindingGroupView[];
  readonly view: GoView;
  readonly first?: string | null;
}) {
  if (props.groups.length === 0) return null;
  const id = `h-${props.title.replaceAll(' ', '-')}`;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{props.title}</h2>
      {props.first && (
        <div class="first-step">
          <p>{props.first}</p>
          {props.view.bare && <a href={linkTo('walk')}>Walk round the rig</a>}
        </div>
      )}
      <ul class="plain">
        {props.groups.map((group) => (
          <FindingItem key={group.key} group={group} view={props.view} />
        ))}
      </ul>
    </section>
  );
}

const MARGINS_SHOWN = 4;

/** The tightest margins at the newest weighing. */
function Margins({ view }: { readonly view: MarginsView }) {
  return (
    <section aria-labelledby="h-margins">
      <h2 id="h-margins">{view.weighedOn === null ? 'Margins' : `Margins at the weighing of ${view.weighedOn}`}</h2>
      {view.margins.length === 0 ? (
        <p>{view.sentence}</p>
      ) : (
        <MarginTable margins={view.margins.slice(0, MARGINS_SHOWN)} />
      )}
      <p class="lead-in">
        <a href={linkTo('scale')}>On the scale</a>
      </p>
    </section>
  );
}

/** Duties that are done in one round before leaving: counted here, worked through there. */
function Leaving({ view }: { readonly view: GoView }) {
  if (!view.trip || view.leaving.length === 0) return null;
  const count = view.leaving.length;
  return (
    <Folded
      title="To do on leaving"
      text={`${count === 1 ? 'One thing' : `${count} things`}, done in one round by ${view.trip.leave}.`}
      groups={view.leaving}
      view={view}
    >
      <a class="button writes" href={linkTo('round', view.trip.id)}>
        Walk the round
      </a>
    </Folded>
  );
}

/** A list that stands behind its count. */
function Folded(props: {
  readonly title: string;
  readonly text?: string;
  readonly groups: readonly FindingGroupView[];
  readonly view: GoView;
  readonly children?: ComponentChildren;
}) {
  const { title, text, groups, view, children } = props;
  const open = useSignal(false);
  if (groups.length === 0) return null;
  const id = `h-${title.replaceAll(' ', '-')}`;
  const count = groups.length === 1 ? 'it' : `all ${groups.length}`;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {text && <p>{text}</p>}
      <div class="row wrap folded">
        {children}
        <button type="button" class="quiet" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
          {open.value ? 'Hide' : `Show ${count}`}
          <span class="sr">: {title}</span>
        </button>
      </div>
      {open.value && (
        <ul class="plain">
          {groups.map((group) => (
            <FindingItem key={group.key} group={group} view={view} />
          ))}
        </ul>
      )}
    </section>
  );
}
