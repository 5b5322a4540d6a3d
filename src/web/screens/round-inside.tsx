import { type Signal, useSignal } from '@preact/signals';
import type { Draft } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import { ask, frame, problemsOf } from '../replica/client.ts';
import type { RoundReading, RoundRowView } from '../replica/views/round.ts';
import { CameraField } from '../shell/camera.tsx';
import { Cautions } from '../shell/cautions.tsx';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';

interface Told {
  readonly outcome: 'good' | 'failed';
  readonly note?: string;
  /** Entries that found it wrong, which this puts right. */
  readonly mends?: readonly string[];
  /** Values by `part what`, with their unit. */
  readonly read?: ReadonlyMap<string, string>;
  readonly air?: string;
}

/** The entries that say it: the work done on all parts of the row, and each value read, with the air it was read in. */
export function draftsOf(
  row: RoundRowView,
  { outcome, note = '', mends = [], read = new Map(), air = '' }: Told,
): Draft[] {
  const on = frame.peek()!.today;
  const done = row.parts.map((part) => ({ upkeep: row.upkeep, part, outcome }));
  const said = { ...(mends.length > 0 ? { mends } : {}), ...(note === '' ? {} : { note }) };
  const drafts: unknown[] = [{ kind: 'work', on, body: { done, ...said } }];
  for (const reading of row.readings) {
    const value = read.get(keyOf(reading));
    if (value === undefined) continue;
    const { part, what } = reading;
    const warm = air !== '' && what.startsWith('pressure') ? { temperature: air } : {};
    drafts.push({ kind: 'reading', on, body: { part, what, value, ...warm } });
  }
  return drafts as Draft[];
}

const keyOf = ({ part, what }: RoundReading): string => `${part} ${what}`;

/** What is behind a row: who said what, how it is done, what is read, and what was found wrong. */
export function RoundInside(props: {
  readonly row: RoundRowView;
  readonly air: Signal<string>;
  readonly close: () => void;
}) {
  const { row, air, close } = props;
  const problems = useSignal<readonly Problem[]>([]);
  const mayWrite = frame.value?.mayWrite ?? false;
  const finish = async (work: () => Promise<void>): Promise<void> => {
    try {
      await work();
      close();
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  const strike = (ids: readonly string[], reason: string): Promise<void> =>
    finish(async () => {
      await ask('strike', { ids, reason });
      say(`Taken back: ${row.title}`);
    });
  const wrong = row.marks.filter((mark) => mark.outcome === 'failed' && !mark.mended).map((mark) => mark.entry);
  const good = row.marks.filter((mark) => mark.outcome === 'good').map((mark) => mark.entry);
  return (
    <div class="why-in">
      <Marks row={row} />
      <Cautions cautions={row.cautions} />
      {row.steps.length > 0 && (
        <ol class="round-steps">
          {row.steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      )}
      {row.standing === 'early' && <p>A tick holds from {row.opens} on.</p>}
      {mayWrite && (row.standing === 'open' || row.standing === 'early') && <Say row={row} air={air} finish={finish} />}
      {mayWrite && row.standing === 'good' && good.length > 0 && (
        <button type="button" class="quiet" onClick={() => strike(good, 'Ticked by mistake')}>
          Take the tick back
        </button>
      )}
      {mayWrite && (row.standing === 'wrong' || row.standing === 'disputed') && (
        <div class="row wrap">
          <Mended row={row} wrong={wrong} finish={finish} />
          {row.standing === 'disputed' && (
            <button type="button" class="quiet" onClick={() => strike(good, 'Looked again: it is not good')}>
              It is wrong: take the tick back
            </button>
          )}
        </div>
      )}
      <Problems problems={problems.value} />
    </div>
  );
}

function Marks({ row }: { readonly row: RoundRowView }) {
  if (row.marks.length === 0) return null;
  return (
    <ul class="plain marks">
      {row.marks.map((mark) => (
        <li key={mark.entry}>
          <a href={linkTo('logbook', mark.entry)}>
            {mark.by}, {whenText(mark.at)}
          </a>
          : {mark.outcome === 'good' ? 'good' : mark.mended ? 'found wrong, put right since' : 'found wrong'}
          {mark.note === '' ? '' : `. ${mark.note}`}
        </li>
      ))}
    </ul>
  );
}

/** The hour by this device's clock. */
const whenText = (instant: string): string =>
  new Date(instant).toLocaleString('en-GB', { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** What is read at this row, and the two things one can say of it. */
function Say(props: {
  readonly row: RoundRowView;
  readonly air: Signal<string>;
  readonly finish: (work: () => Promise<void>) => Promise<void>;
}) {
  const { row, air, finish } = props;
  const isWrong = useSignal(false);
  const photos = useSignal<readonly File[]>([]);
  const pressed = row.readings.some(({ what }) => what.startsWith('pressure'));
  const write = (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const text = (name: string): string => String(data.get(name) ?? '').trim();
    const withUnit = (value: string, unit: string): string => (/[a-z°]/i.test(value) ? value : `${value} ${unit}`);
    const read = new Map(
      row.readings.flatMap((reading) => {
        const value = text(keyOf(reading));
        return value === '' ? [] : [[keyOf(reading), withUnit(value, text(`${keyOf(reading)}#unit`))] as const];
      }),
    );
    if (pressed) air.value = text('air') === '' ? '' : withUnit(text('air'), text('air#unit'));
    return finish(async () => {
      const outcome = isWrong.value ? 'failed' : 'good';
      const drafts = draftsOf(row, { outcome, note: text('note'), read, air: air.value });
      const { ids } = await ask('write', { drafts, photos: photos.value });
      say(`${isWrong.value ? 'Found wrong' : 'Ticked'}: ${row.title}`, ids);
    });
  };
  return (
    <form onSubmit={write}>
      {row.readings.map((reading) => (
        <Value key={keyOf(reading)} name={keyOf(reading)} {...reading} needed={reading.needed && !isWrong.value} />
      ))}
      {pressed && (
        <Value
          name="air"
          label="Air"
          units={frame.value?.units === 'metric' ? CELSIUS : FAHRENHEIT}
          last="Without it a cold pressure is known only roughly. Asked once for the whole round."
          needed={false}
          value={air.value}
        />
      )}
      {isWrong.value && (
        <>
          <label class="field">
            <span>What is wrong?</span>
            <textarea name="note" rows={2} required maxLength={500} />
          </label>
          <CameraField label="A photo of it" photos={photos} />
        </>
      )}
      <div class="row wrap say">
        <button type="submit">{isWrong.value ? 'Write it down' : 'Good'}</button>
        <button type="button" class="quiet" onClick={() => (isWrong.value = !isWrong.value)}>
          {isWrong.value ? 'Nothing is wrong' : 'Something is wrong'}
        </button>
      </div>
    </form>
  );
}

const CELSIUS = [
  { value: '°C', label: '°C' },
  { value: '°F', label: '°F' },
];
const FAHRENHEIT = [...CELSIUS].reverse();

function Value(props: {
  readonly name: string;
  readonly label: string;
  readonly units: RoundReading['units'];
  readonly last: string;
  readonly needed: boolean;
  readonly value?: string;
}) {
  const { name, label, units, last, needed, value = '' } = props;
  const id = `v-${name.replace(' ', '-')}`;
  return (
    <div class="field">
      <label for={id}>
        {label}
        {needed ? '' : ' (if read)'}
      </label>
      <div class="row">
        <input id={id} name={name} inputMode="decimal" autocomplete="off" required={needed} defaultValue={value} />
        <select name={`${name}#unit`} aria-label={`Unit of ${label.toLowerCase()}`}>
          {units.map((unit) => (
            <option key={unit.value} value={unit.value}>
              {unit.label}
            </option>
          ))}
        </select>
      </div>
      {last !== '' && <small class="soft">{last}</small>}
    </div>
  );
}

/** Put right: it is ticked with what was done, naming what found it wrong, which stays written. */
function Mended(props: {
  readonly row: RoundRowView;
  readonly wrong: readonly string[];
  readonly finish: (work: () => Promise<void>) => Promise<void>;
}) {
  const { row, wrong, finish } = props;
  const mend = (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const note = String(new FormData(event.currentTarget as HTMLFormElement).get('note')).trim();
    return finish(async () => {
      const { ids } = await ask('write', { drafts: draftsOf(row, { outcome: 'good', note, mends: wrong }) });
      say(`Put right: ${row.title}`, ids);
    });
  };
  return (
    <form class="grow" onSubmit={mend}>
      <label class="field">
        <span>What was put right?</span>
        <textarea name="note" rows={2} required minLength={3} maxLength={480} />
      </label>
      <div class="row wrap say">
        <button type="submit">It is good now</button>
      </div>
    </form>
  );
}
