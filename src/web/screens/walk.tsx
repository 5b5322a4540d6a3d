import { useSignal } from '@preact/signals';
import './walk.css';
import { ask, frame, useAnswer } from '../replica/client.ts';
import type { WalkStop, WalkView } from '../replica/views/walk.ts';
import { openForm } from '../shell/form.ts';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';

/** Where the walk stopped last time, on this device. */
const key = (): string => `walk/${frame.value?.rig ?? ''}`;

/** The walk-round: from stop to stop, each with what to look for; whatever cannot be told stays unproven, and nothing is lost by leaving. */
export function Walk() {
  const { answer, problems } = useAnswer('walk', {});
  if (!answer) {
    return (
      <>
        <Title>Walk-round</Title>
        <NotYet problems={problems} doing="Opening …" />
      </>
    );
  }
  if (!answer.enrolled.trailer || !answer.enrolled.tow) return <Enrol view={answer} />;
  const asked = Number(route.value.rest[0] ?? localStorage.getItem(key()) ?? '1');
  const at = Math.min(Math.max(1, Number.isInteger(asked) ? asked : 1), answer.stops.length + 1);
  localStorage.setItem(key(), String(at));
  if (at > answer.stops.length) return <Done view={answer} />;
  return <Stop key={at} stop={answer.stops[at - 1]!} at={at} of={answer.stops.length} done={answer.done} />;
}

function Enrol({ view }: { readonly view: WalkView }) {
  const missing = view.enrolled.trailer ? 'tow' : 'trailer';
  return (
    <div class="walk">
      <Title>{missing === 'trailer' ? 'First the trailer' : 'Now what tows it'}</Title>
      <p class="lead-in">
        Its name, its axles, and the ratings on its certification label. What you cannot find stays open; nothing is
        guessed.
      </p>
      <p class="row wrap walk-do">
        <button type="button" class="writes" onClick={() => openForm({ proof: { kind: 'enroll', vehicle: missing } })}>
          Write down {missing === 'trailer' ? 'the trailer' : 'the tow vehicle'}
        </button>
      </p>
    </div>
  );
}

function Stop({
  stop,
  at,
  of,
  done,
}: {
  readonly stop: WalkStop;
  readonly at: number;
  readonly of: number;
  readonly done: number;
}) {
  const busy = useSignal(false);
  const next = linkTo('walk', String(at + 1));
  const none = async (): Promise<void> => {
    busy.value = true;
    const { ids } = await ask('set', { key: `fact/absent-${stop.kind}`, value: 'looked for, and not on this rig' });
    say(`This rig has none: ${stop.name}`, ids);
    location.hash = next;
  };
  return (
    <div class="walk">
      <p class="soft">
        Stop {at} of {of}, {stop.group}. {done} on record.
      </p>
      <progress max={of} value={at} aria-label={`Stop ${at} of ${of}`} />
      <Title>{stop.name}</Title>
      <ul class="identify">
        {stop.identify.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      {stop.known.length > 0 && (
        <section aria-label="On record">
          <h2>On record</h2>
          <ul class="plain">
            {stop.known.map((part) => (
              <li key={part.id}>
                <a class="part-row" href={linkTo('rig', part.id)}>
                  {part.text === '' ? stop.name : part.text}
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
      {stop.absent && <p class="first-step">You said that this rig has none.</p>}
      <div class="row wrap walk-do">
        {stop.open.map((place) => (
          <button
            key={place}
            type="button"
            class="writes"
            onClick={() => openForm({ kind: 'fit', known: { kind: stop.kind, ...(place === '' ? {} : { place }) } })}
          >
            {place === '' ? 'Write it down' : `Write down: ${place}`}
          </button>
        ))}
        {stop.open.length === 0 && (
          <button
            type="button"
            class="quiet writes"
            onClick={() => openForm({ kind: 'fit', known: { kind: stop.kind } })}
          >
            One more
          </button>
        )}
        {stop.known.length === 0 && !stop.absent && (
          <button type="button" class="quiet writes" disabled={busy.value} onClick={none}>
            This rig has none
          </button>
        )}
      </div>
      <div class="row wrap walk-do steps-nav">
        {at > 1 && (
          <a class="button quiet" href={linkTo('walk', String(at - 1))}>
            Back
          </a>
        )}
        <a class={stop.known.length > 0 || stop.absent ? 'button' : 'button quiet'} href={next}>
          {stop.known.length > 0 || stop.absent ? 'Next' : 'Can’t tell now, next'}
        </a>
        <a class="button quiet" href={linkTo('go')}>
          Stop here; go on later
        </a>
      </div>
    </div>
  );
}

function Done({ view }: { readonly view: WalkView }) {
  const open = view.stops
    .map((stop, at) => ({ stop, at }))
    .filter(({ stop }) => stop.known.length === 0 && !stop.absent && stop.severity);
  return (
    <div class="walk">
      <Title>Once round. {view.done} kinds of part are on record.</Title>
      <p class="row wrap walk-do">
        <a class="button" href={linkTo('go')}>
          Can we go?
        </a>
        <button type="button" class="quiet writes" onClick={() => openForm({ kind: 'trip' })}>
          Plan the first trip
        </button>
      </p>
      {open.length > 0 && (
        <section aria-labelledby="h-open">
          <h2 id="h-open">Still open, and a matter of safety</h2>
          <ul class="plain">
            {open.map(({ stop, at }) => (
              <li key={stop.kind}>
                <a class="part-row" href={linkTo('walk', String(at + 1))}>
                  {stop.name}
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
