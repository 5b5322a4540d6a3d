import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import './round.css';
import { ask, frame, useAnswer } from '../replica/client.ts';
import type { RoundRowView, RoundView } from '../replica/views/round.ts';
import { JudgementMark, TickMark } from '../shell/marks.tsx';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { draftsOf, RoundInside } from './round-inside.tsx';

/** Rows that are behind us: nobody has to come back to them. */
const behind = ({ standing }: RoundRowView): boolean => standing === 'good' || standing === 'overruled';
/** Rows that somebody could do now. */
const waits = (row: RoundRowView): boolean => !behind(row) && row.standing !== 'early';

/** The round before leaving, worked through by one or two people on as many phones: what one ticks, the other sees. */
export function Round() {
  const { answer, problems } = useAnswer('round', { trip: route.value.rest[0] ?? null });
  const open = useSignal<string | null>(null);
  const air = useSignal('');
  if (!answer) {
    return (
      <>
        <Title>Before we roll</Title>
        <NotYet problems={problems} doing="Working it out …" />
      </>
    );
  }
  if (!answer.trip || answer.problems.length > 0) {
    return (
      <>
        <Title>Before we roll</Title>
        {answer.problems.slice(0, 1).map(({ what, next }) => (
          <p key={what} class="lead">
            {what}. {next}
          </p>
        ))}
        <p class="lead-in">
          <a class="button" href={linkTo('go')}>
            Can we go?
          </a>
        </p>
      </>
    );
  }
  const rows = answer.stations.flatMap((station) => station.rows);
  const left = rows.filter((row) => !behind(row));
  return (
    <div class="round">
      <RoundHead view={answer} left={left} of={rows.length} />
      {answer.stations.map((station) => (
        <section key={station.id} aria-labelledby={`h-${station.id}`}>
          <h2 id={`h-${station.id}`} class="station">
            <span>{station.name}</span>
            <span class="soft">{stationText(station.rows)}</span>
          </h2>
          <ul class="plain">
            {station.rows.map((row) => (
              <Row key={row.id} row={row} open={open} air={air} />
            ))}
          </ul>
        </section>
      ))}
      {answer.besides.length > 0 && (
        <section aria-labelledby="h-besides">
          <h2 id="h-besides">No part of this round, and still in the way</h2>
          <ul class="besides">
            {answer.besides.map((title) => (
              <li key={title}>{title}</li>
            ))}
          </ul>
          <p class="lead-in">
            <a class="button quiet" href={linkTo('go', answer.trip.id)}>
              Can we go?
            </a>
          </p>
        </section>
      )}
      <Bar left={left} of={rows.length} />
    </div>
  );
}

function stationText(rows: readonly RoundRowView[]): string {
  const left = rows.filter((row) => !behind(row)).length;
  return left === 0 ? 'done' : `${left} left`;
}

function RoundHead(props: { readonly view: RoundView; readonly left: readonly RoundRowView[]; readonly of: number }) {
  const { view, left, of } = props;
  const trip = view.trip!;
  const early = left.filter((row) => row.standing === 'early').length;
  return (
    <>
      <div class="go-head">
        {left.length === 0 && view.judgement && <JudgementMark judgement={view.judgement} />}
        <Title>{left.length === 0 ? view.sentence : `Before we roll: ${left.length} of ${of} left`}</Title>
      </div>
      <p class="soft lead-in">
        {trip.name}, {trip.leave}.{early > 0 && ` ${early} cannot be done yet: a tick today would not hold on leaving.`}{' '}
        <SheetLink sheet="send-off" text="On paper" of={trip.id} />
      </p>
      {frame.value?.mayWrite && <Who />}
    </>
  );
}

/** Who holds this phone: the name under every tick. */
function Who() {
  const change = useSignal(false);
  const by = frame.value?.by ?? '';
  const sign = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const name = String(new FormData(event.currentTarget as HTMLFormElement).get('name')).trim();
    if (name !== '') await ask('signAs', { name });
    change.value = false;
  };
  if (!change.value) {
    return (
      <p class="who">
        You tick as <b>{by}</b>.{' '}
        {!frame.value?.signedIn && (
          <button type="button" class="why" onClick={() => (change.value = true)}>
            Somebody else
          </button>
        )}
      </p>
    );
  }
  return (
    <form class="row who" onSubmit={sign}>
      <label class="grow">
        <span class="sr">Who holds this phone?</span>
        <input name="name" required maxLength={40} autocomplete="given-name" defaultValue={by} />
      </label>
      <button type="submit">That’s me</button>
    </form>
  );
}

interface RowProps {
  readonly row: RoundRowView;
  readonly open: Signal<string | null>;
  readonly air: Signal<string>;
}

function Row({ row, open, air }: RowProps) {
  const busy = useSignal(false);
  const id = `row-${row.id.replace('/', '-')}`;
  const shown = open.value === row.id;
  useEffect(() => {
    busy.value = false;
  }, [row.standing, row.marks.length]);
  const mayWrite = frame.value?.mayWrite ?? false;
  const ticks = mayWrite && row.standing === 'open' && !row.readings.some((reading) => reading.needed);
  const press = async (): Promise<void> => {
    // A look is a tick at once; whatever has to be read, told or taken back is opened first.
    if (!ticks) {
      open.value = shown ? null : row.id;
      return;
    }
    busy.value = true;
    try {
      const { ids } = await ask('write', { drafts: draftsOf(row, { outcome: 'good' }) });
      say(`Ticked: ${row.title}`, ids);
      if (shown) open.value = null;
    } catch {
      busy.value = false;
      open.value = row.id;
    }
  };
  const standing = busy.value ? 'good' : row.standing;
  return (
    <li class={`round-row ${standing}`} id={id} data-waits={waits(row) ? '' : undefined}>
      <div class="round-line">
        <button
          type="button"
          class="tick"
          {...(ticks ? {} : { 'aria-expanded': shown, 'aria-controls': `${id}-in` })}
          disabled={busy.value}
          onClick={() => void press()}
        >
          <TickMark standing={standing} />
          <span>
            <b>{row.title}</b>
            <span class="soft">{wordsOf(row)}</span>
          </span>
        </button>
        <button
          type="button"
          class="quiet more-of"
          aria-expanded={shown}
          aria-controls={`${id}-in`}
          aria-label={`More on: ${row.title}`}
          onClick={() => (open.value = shown ? null : row.id)}
        >
          {shown ? 'Less' : 'More'}
        </button>
      </div>
      <div id={`${id}-in`} hidden={!shown}>
        {shown && <RoundInside row={row} air={air} close={() => (open.value = null)} />}
      </div>
    </li>
  );
}

/** Where, and how it stands, under the title. */
function wordsOf(row: RoundRowView): string {
  const standing = row.marks.filter((mark) => !mark.mended);
  const names = [...new Set(standing.map((mark) => mark.by))].join(' and ');
  const last = standing.at(-1);
  const how: Readonly<Record<RoundRowView['standing'], string>> = {
    open: row.readings.some((reading) => reading.needed) ? 'to be read' : '',
    early: `from ${row.opens}`,
    good: names === '' ? 'done' : `done by ${names}`,
    wrong: `found wrong by ${last?.by}${last?.note ? `: ${last.note}` : ''}`,
    disputed: `${names} say different things: look again`,
    overruled: 'overruled for this trip',
  };
  return [row.places, how[row.standing]].filter((text) => text !== '').join('; ');
}

/** What is left, in reach of the thumb, and the way to the next of it. */
function Bar({ left, of }: { readonly left: readonly RoundRowView[]; readonly of: number }) {
  const next = (): void => {
    const rows = [...document.querySelectorAll<HTMLElement>('.round-row[data-waits]')];
    const below = rows.find((row) => row.getBoundingClientRect().top > innerHeight * 0.45) ?? rows[0];
    below?.scrollIntoView({ block: 'center' });
    below?.querySelector<HTMLElement>('.tick')?.focus({ preventScroll: true });
  };
  const waiting = left.filter(waits).length;
  return (
    <div class="round-bar">
      <progress max={of} value={of - left.length} aria-label="Done" />
      <p role="status">
        <b>
          {left.length} of {of} left
        </b>
      </p>
      <button type="button" class="quiet" disabled={waiting === 0} onClick={next}>
        Next
      </button>
    </div>
  );
}
