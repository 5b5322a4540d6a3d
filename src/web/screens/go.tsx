import { useSignal } from '@preact/signals';
import './go.css';
import { useAnswer } from '../replica/client.ts';
import type { FindingGroupView, GoView, TripChoice } from '../replica/views/go.ts';
import type { ScaleView } from '../replica/views/scale.ts';
import { openForm } from '../shell/form.tsx';
import { JudgementMark } from '../shell/marks.tsx';
import { Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { FindingItem } from './finding.tsx';
import { MarginTable } from './margins.tsx';

/** Can we go? The judgement on one trip, and everything it rests on. */
export function Go() {
  const asked = route.value.rest[0] ?? null;
  const { answer, problems, working } = useAnswer('go', { trip: asked });
  const scale = useAnswer('scale', {});
  // Both are there within the same moment: shown together, nothing on the page moves.
  if (!answer || (scale.answer === null && scale.working)) {
    return (
      <>
        <Title>Can we go?</Title>
        {problems.length > 0 ? <Problems problems={problems} /> : <p class="soft">Working it out …</p>}
      </>
    );
  }
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
          <Section title="Unproven" groups={answer.unproven} view={answer} first={answer.firstStep} />
        </div>
        <div>
          <Section title="We may go with" groups={answer.limits} view={answer} />
          <Section title="To do on leaving" groups={answer.leaving} view={answer} />
          <Section title="On the way" groups={answer.onTheWay} view={answer} />
          <Section title="Overruled for this trip" groups={answer.waived} view={answer} />
          {scale.answer && <Margins scale={scale.answer} />}
          <Passes view={answer} />
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
        {trip.leave} to {trip.home}, {whenText(trip)}. {trip.miles}.{' '}
        <SheetLink sheet="send-off" text="Print the send-off" of={trip.id} />
      </p>
      {trip.inDays < 0 ? (
        <button
          type="button"
          class="quiet writes"
          onClick={() => openForm({ kind: 'trip-done', known: { trip: trip.id, left: trip.left } })}
        >
          We are back
        </button>
      ) : (
        <a class="button quiet writes" href={linkTo('round', trip.id)}>
          Walk the round
        </a>
      )}
    </div>
  );
}

function whenText({ inDays }: TripChoice): string {
  if (inDays < 0) return `day ${1 - inDays} of it`;
  if (inDays === 0) return 'leaving today';
  return inDays === 1 ? 'leaving tomorrow' : `in ${inDays} days`;
}

function NoTrip({ view }: { readonly view: GoView }) {
  return (
    <>
      <Problems problems={view.problems} />
      <p>
        <button type="button" class="writes" onClick={() => openForm({ kind: 'trip' })}>
          Plan a trip
        </button>
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
      {props.first && <p class="first-step">{props.first}</p>}
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
function Margins({ scale }: { readonly scale: ScaleView }) {
  return (
    <section aria-labelledby="h-margins">
      <h2 id="h-margins">{scale.weighing ? `Margins at the weighing of ${scale.weighing.day}` : 'Margins'}</h2>
      {scale.margins.length === 0 ? (
        <p>{scale.sentence}</p>
      ) : (
        <MarginTable margins={scale.margins.slice(0, MARGINS_SHOWN)} />
      )}
      <p class="lead-in">
        <a href={linkTo('scale')}>On the scale</a>
      </p>
    </section>
  );
}

/** What passed, shown on request. */
function Passes({ view }: { readonly view: GoView }) {
  const open = useSignal(false);
  if (view.passes.length === 0) return null;
  return (
    <section aria-labelledby="h-passes">
      <h2 id="h-passes">{view.passes.length} duties pass</h2>
      <button type="button" class="quiet" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
        {open.value ? 'Hide them' : 'Show them'}
      </button>
      {open.value && (
        <ul class="plain">
          {view.passes.map((group) => (
            <FindingItem key={group.key} group={group} view={view} />
          ))}
        </ul>
      )}
    </section>
  );
}
