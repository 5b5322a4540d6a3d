import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import './season.css';
import { SeasonLine } from '../drawings/season-line.tsx';
import { useAnswer } from '../replica/client.ts';
import type { SeasonTrip, SeasonView } from '../replica/views/season.ts';
import { openForm } from '../shell/form.ts';
import { minutesText } from '../shell/minutes.ts';
import { NotYet, Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { Wide } from '../shell/width.tsx';
import { YardDaySection } from './season-day.tsx';
import { MovePanel, type Moving, quickPrice } from './season-move.tsx';

/** The season: a line through the year, yard days with their jobs, and what every other choice would cost. */
export function Season() {
  const { answer, problems, working } = useAnswer('season', {});
  const moving = useSignal<Moving | null>(null);
  const picked = useSignal<string | null>(null);
  if (!answer) {
    return (
      <>
        <Title>The season</Title>
        <NotYet problems={problems} doing="Working it out: every job, every free day …" />
      </>
    );
  }
  return (
    <div aria-busy={working}>
      <Title>{answer.sentence}</Title>
      <p class="soft lead-in">
        {working ? 'Planning anew …' : answer.proven} <SheetLink sheet="season" text="Print the season" />
      </p>
      <Problems problems={[...problems, ...answer.problems]} />
      <Line view={answer} moving={moving} picked={picked} />
      {moving.value && <MovePanel view={answer} moving={moving} />}
      {answer.warnings.some((warning) => BROKEN.test(warning)) && <Warnings warnings={answer.warnings} />}
      {answer.bare ? <Bare /> : <BandPicker view={answer} picked={picked} />}
      <div class="season-columns">
        <section aria-labelledby="h-days">
          <h2 id="h-days">Yard days</h2>
          {answer.days.map((day, at) => (
            <YardDaySection key={day.date} day={day} first={at === 0} view={answer} moving={moving} picked={picked} />
          ))}
          {answer.days.length === 0 && (
            <p>
              {answer.bare ? 'None, as long as no part is on record.' : 'Nothing on record has to be done at home.'}
            </p>
          )}
          {!answer.bare && !answer.warnings.some((warning) => BROKEN.test(warning)) && (
            <Warnings warnings={answer.warnings} />
          )}
        </section>
        <div>
          <Trips view={answer} />
          <Afterwards view={answer} />
        </div>
      </div>
    </div>
  );
}

/** The drawing, as wide as the page, redrawn when that changes; a job dragged over it lands on the nearest free day. */
function Line({
  view,
  moving,
  picked,
}: {
  readonly view: SeasonView;
  readonly moving: Signal<Moving | null>;
  readonly picked: Signal<string | null>;
}) {
  const shown = moving.value?.items[0] ?? picked.value;
  return (
    <Wide class={moving.value ? 'line-box sticky' : 'line-box'} data-line>
      {(width) => (
        <SeasonLine
          width={width}
          from={view.from}
          to={view.to}
          today={view.today}
          trips={view.trips}
          days={view.days.map((day) => ({
            date: day.date,
            text: width < 500 ? day.shortText : `${day.shortText}, ${minutesText(day.minutes)}`,
            label: `${day.text}, ${minutesText(day.minutes)}, ${day.jobs.length} jobs`,
          }))}
          band={shown ? (view.bands[shown] ?? null) : null}
          {...(moving.value
            ? {
                slots: view.slots
                  .filter((slot) => slot.date <= view.to)
                  .map(({ date }) => ({ date, more: moving.value?.prices[date] ?? null })),
                chosen: {
                  day: moving.value.day,
                  text: `${shortDay(view, moving.value.day)}: ${quickPrice(moving.value)}`,
                },
              }
            : {})}
        />
      )}
    </Wide>
  );
}

const shortDay = (view: SeasonView, date: string): string =>
  view.slots.find((slot) => slot.date === date)?.text.replace(/ \d{4}$/, '') ?? date;

function BandPicker({ view, picked }: { readonly view: SeasonView; readonly picked: Signal<string | null> }) {
  // A rig of many parts has hundreds: listed in a task of their own, so that the page is there before.
  const listed = useSignal(false);
  useEffect(() => {
    const soon = setTimeout(() => {
      listed.value = true;
    });
    return () => clearTimeout(soon);
  }, [listed]);
  const bands = Object.values(view.bands)
    .filter((band) => listed.value || band.item === picked.value)
    .sort((a, b) => (a.p50 < b.p50 ? -1 : 1));
  return (
    <label class="field band-picker">
      <span>When does it run out?</span>
      <select value={picked.value ?? ''} onChange={(event) => (picked.value = event.currentTarget.value || null)}>
        <option value="">Pick an upkeep to see its window</option>
        {bands.map((band) => (
          <option key={band.item} value={band.item} selected={band.item === picked.value}>
            {band.title}
          </option>
        ))}
      </select>
      <small class="soft" aria-live="polite">
        {picked.value ? view.bands[picked.value]?.text : ''}
      </small>
    </label>
  );
}

/** What the plan begins with: parts, and what is known of them. */
function Bare() {
  return (
    <p class="row wrap lead-in">
      <a class="button writes" href={linkTo('walk')}>
        Walk round the rig
      </a>
    </p>
  );
}

/** Warnings of a plan that breaks what it was asked for; the others say what it took for granted. */
const BROKEN = /^(No free day before|There is more safety work)/;

function Warnings({ warnings }: { readonly warnings: readonly string[] }) {
  if (warnings.length === 0) return null;
  const broken = warnings.some((warning) => BROKEN.test(warning));
  return (
    <section aria-labelledby="h-warnings">
      <h2 id="h-warnings">{broken ? 'What the plan cannot keep to' : 'What the plan takes for granted'}</h2>
      <ul class="warnings">
        {warnings.map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
    </section>
  );
}

function Trips({ view }: { readonly view: SeasonView }) {
  return (
    <section aria-labelledby="h-trips">
      <h2 id="h-trips">Trips</h2>
      <ul class="plain">
        {view.trips.map((trip) => (
          <TripRow key={trip.id} trip={trip} />
        ))}
      </ul>
      <p class="add">
        <button type="button" class="writes" onClick={() => openForm({ kind: 'trip' })}>
          Add a trip
        </button>
      </p>
    </section>
  );
}

function TripRow({ trip }: { readonly trip: SeasonTrip }) {
  const open = useSignal(false);
  return (
    <li class="trip-row">
      <div class="finding-line">
        <div>
          <h3>{trip.name}</h3>
          <p class="soft">
            {trip.leaveText} to {trip.homeText}, {trip.miles}
            {trip.tentative ? ', perhaps' : ''}. <a href={linkTo('go', trip.id)}>Can we go?</a>
          </p>
        </div>
        {trip.begun ? (
          <button
            type="button"
            class="writes"
            aria-label={`Finish ${trip.name}`}
            onClick={() => openForm({ kind: 'trip-done', known: { trip: trip.id, left: trip.leave, back: trip.home } })}
          >
            Finish
          </button>
        ) : (
          <button
            type="button"
            class="quiet writes"
            aria-label={`Change ${trip.name}`}
            onClick={() => openForm({ kind: 'trip', known: trip.known })}
          >
            Change
          </button>
        )}
      </div>
      {trip.onTheWay.length > 0 && (
        <>
          <button type="button" class="why" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
            {trip.onTheWay.length} things on leaving and on the way
          </button>
          {open.value && (
            <ul class="on-the-way">
              {trip.onTheWay.map((one) => (
                <li key={`${one.at} ${one.title} ${one.why}`}>
                  <b>{one.at}:</b> {one.title}. <span class="soft">{one.why}</span>
                </li>
              ))}
            </ul>
          )}
        </>
      )}
    </li>
  );
}

function Afterwards({ view }: { readonly view: SeasonView }) {
  const open = useSignal(false);
  if (view.after.length + view.later.length === 0) return null;
  return (
    <section aria-labelledby="h-later">
      <h2 id="h-later">Can wait</h2>
      <details onToggle={(event) => (open.value = event.currentTarget.open)}>
        <summary>
          {view.after.length} yard days after this season, and {view.later.length} duties not in sight
        </summary>
        {open.value && (
          <ul class="later">
            {view.after.map((day) => (
              <li key={day.date}>
                <b>
                  {day.text}, {minutesText(day.minutes)}:
                </b>{' '}
                {day.titles.join('; ')}
              </li>
            ))}
            {view.later.map((one) => (
              <li key={one.item}>
                {one.text} <span class="soft">({one.runsOut})</span>
              </li>
            ))}
          </ul>
        )}
      </details>
    </section>
  );
}
