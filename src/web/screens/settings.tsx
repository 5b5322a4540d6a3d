import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, frame, problemsOf, useAnswer } from '../replica/client.ts';
import type { SettingsView } from '../replica/views/settings.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Doors } from './doors.tsx';
import './settings.css';
import { Title } from '../shell/title.tsx';

const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** The owner's own figures, each an entry in the logbook; and data in and out. */
export function Settings() {
  const { answer, problems } = useAnswer('settings', {});
  const wrong = useSignal<readonly Problem[]>([]);
  if (!answer) {
    return (
      <>
        <Title>Your own figures</Title>
        {problems.length > 0 ? <Problems problems={problems} /> : <p class="soft">Opening …</p>}
      </>
    );
  }
  const set = async (key: string, value: unknown): Promise<void> => {
    try {
      const { said, ids } = await ask('set', { key, value });
      wrong.value = [];
      say(`Written: ${said}`, ids);
    } catch (error) {
      wrong.value = problemsOf(error);
    }
  };
  return (
    <div class="settings">
      <Title>Your own figures</Title>
      <p class="soft lead-in">
        Each is an entry in the logbook: it can be looked up, and struck. Your handbook outranks every default.
      </p>
      <Problems problems={wrong.value} />
      <div class="settings-columns">
        <div>
          <Time view={answer} set={set} />
          <Worth view={answer} set={set} />
          <People view={answer} set={set} />
        </div>
        <div>
          <Facts view={answer} set={set} />
          <Data />
        </div>
      </div>
    </div>
  );
}

interface Part {
  readonly view: SettingsView;
  readonly set: (key: string, value: unknown) => Promise<void>;
}

function Time({ view, set }: Part) {
  const save = (event: SubmitEvent): void => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    void set('free-days', { weekdays: data.getAll('day').map(Number), hours: Number(data.get('hours')) });
  };
  return (
    <section aria-labelledby="h-time">
      <h2 id="h-time">Free days at home</h2>
      <form onSubmit={save}>
        <fieldset class="bare days">
          <legend class="sr">Days of the week</legend>
          {DAYS.map((name, day) => (
            <label key={name} class="field check">
              <input type="checkbox" name="day" value={day} defaultChecked={view.weekdays.includes(day)} />
              <span>{name}</span>
            </label>
          ))}
        </fieldset>
        <label class="field">
          <span>Hours on such a day</span>
          <input
            name="hours"
            type="number"
            min="0.5"
            max="24"
            step="0.5"
            required
            defaultValue={String(view.hours ?? 6)}
          />
        </label>
        <button type="submit" class="quiet">
          Write free days
        </button>
      </form>
      <Figure
        label="Units"
        value={view.units}
        choices={[
          ['us', 'US customary'],
          ['metric', 'Metric'],
        ]}
        save={(value) => set('units', value)}
      />
      <Figure
        label="First freeze at home (month-day)"
        value={view.firstFreeze}
        placeholder="10-12"
        save={(value) => set('first-freeze', value)}
      />
      <Figure
        label="Last freeze at home (month-day)"
        value={view.lastFreeze}
        placeholder="04-20"
        save={(value) => set('last-freeze', value)}
      />
    </section>
  );
}

const times = (factor: number): string => (factor === 1 ? 'as it costs' : `${factor} times`);

function Worth({ view, set }: Part) {
  const percent = (severity: string, usual: number): string =>
    String(Math.round((view.alpha[severity] ?? usual) * 100));
  return (
    <section aria-labelledby="h-worth">
      <h2 id="h-worth">What it is worth, and what may be risked</h2>
      <Figure
        label="An hour of your work, in money"
        value={String(view.hourlyValue ?? '')}
        placeholder="25 where you say nothing"
        save={(value) => set('hourly-value', Number(value))}
      />
      <Figure
        label="Opening a yard day, in money"
        value={String(view.dayCost ?? '')}
        placeholder="25 where you say nothing"
        save={(value) => set('day-cost', Number(value))}
      />
      <Figure
        label="What the plan should spare"
        value={view.appetite}
        choices={[
          ['least money', 'Money'],
          ['fewest afternoons', 'Afternoons'],
          ['least risk on the road', 'Risk on the road'],
        ]}
        save={(value) => set('appetite', value)}
      />
      <details>
        <summary>What each of the three weighs</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Spare</th>
              <th scope="col" class="n">
                a yard day counts
              </th>
              <th scope="col" class="n">
                a failure counts
              </th>
            </tr>
          </thead>
          <tbody>
            {view.appetites.map(({ id, day, risk }) => (
              <tr key={id}>
                <th scope="row">{id}</th>
                <td class="n">{times(day)}</td>
                <td class="n">{times(risk)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
      <Figure
        label="Chance accepted that a safety matter runs out on a trip, in %"
        value={percent('safety', 0.05)}
        save={(value) => set('alpha/safety', Number(value) / 100)}
      />
      <Figure
        label="The same where only damage is at stake, in %"
        value={percent('damage', 0.2)}
        save={(value) => set('alpha/damage', Number(value) / 100)}
      />
    </section>
  );
}

function People({ view, set }: Part) {
  const call = (event: SubmitEvent): void => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const name = String(data.get('name'));
    const key =
      name
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-|-$/g, '') || 'call';
    void set(`call/${key}`, { name, number: String(data.get('number')) });
  };
  return (
    <section aria-labelledby="h-people">
      <h2 id="h-people">People</h2>
      <Figure
        label="Who writes on this device"
        value={frame.value?.by ?? ''}
        save={async (name) => {
          await ask('signAs', { name });
          say(`Entries from this device are signed ${name}.`);
        }}
      />
      <h3 class="calls-head">Whom to call at the roadside</h3>
      <ul class="plain">
        {view.calls.map((one) => (
          <li key={one.key} class="row call-row">
            <span class="grow">
              {one.name}: {one.number}
            </span>
            <button
              type="button"
              class="quiet"
              aria-label={`Take out ${one.name}`}
              onClick={() => set(`call/${one.key}`, null)}
            >
              Take out
            </button>
          </li>
        ))}
      </ul>
      <form onSubmit={call}>
        <label class="field">
          <span>Name</span>
          <input name="name" required autocomplete="off" />
        </label>
        <label class="field">
          <span>Number</span>
          <input name="number" type="tel" required autocomplete="off" />
        </label>
        <button type="submit" class="quiet">
          Write whom to call
        </button>
      </form>
    </section>
  );
}

function Facts({ view, set }: Part) {
  return (
    <section aria-labelledby="h-facts">
      <h2 id="h-facts">What only your handbook can say</h2>
      <p class="soft">Makers contradict each other about these. Until you write yours down they are unknown.</p>
      {view.facts.map((fact) => (
        <div key={fact.id} class="fact">
          <Figure
            label={fact.title}
            value={fact.value}
            placeholder="Not on record"
            save={(value) => set(`fact/${fact.id}`, /^\d+(\.\d+)?$/.test(value) ? Number(value) : value)}
          />
          <details>
            <summary>Where to look, and why it matters</summary>
            <p>
              {fact.ask} {fact.why}
            </p>
            <ul class="call-whom">
              {fact.disagree.map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </details>
        </div>
      ))}
    </section>
  );
}

/** One figure: a field, and a button that is there only when something was changed. */
function Figure(props: {
  readonly label: string;
  readonly value: string;
  readonly placeholder?: string;
  readonly choices?: readonly (readonly [value: string, name: string])[];
  readonly save: (value: string) => Promise<void>;
}) {
  const typed = useSignal<string | null>(null);
  const id = `figure-${props.label.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`;
  const now = typed.value ?? props.value;
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    await props.save(now);
    typed.value = null;
  };
  return (
    <form class="figure" onSubmit={save}>
      <div class="field">
        <label for={id}>{props.label}</label>
        {props.choices ? (
          <select id={id} value={now} onChange={(event) => (typed.value = event.currentTarget.value)}>
            {props.value === '' && <option value="">Nothing said yet</option>}
            {props.choices.map(([value, name]) => (
              <option key={value} value={value} selected={value === now}>
                {name}
              </option>
            ))}
          </select>
        ) : (
          <input
            id={id}
            value={now}
            placeholder={props.placeholder ?? ''}
            autocomplete="off"
            onInput={(event) => (typed.value = event.currentTarget.value)}
          />
        )}
      </div>
      {typed.value !== null && typed.value !== props.value && (
        <button type="submit" aria-label={`Write: ${props.label}`}>
          Write
        </button>
      )}
    </form>
  );
}

function Data() {
  const open = useSignal(false);
  const save = async (question: 'exportText' | 'exportCsv', ending: string, type: string): Promise<void> => {
    const url = URL.createObjectURL(new Blob([await ask(question, {})], { type }));
    const link = document.createElement('a');
    link.href = url;
    link.download = `${frame.value?.rig ?? 'rig'}-${frame.value?.today ?? ''}.${ending}`;
    link.click();
    URL.revokeObjectURL(url);
  };
  return (
    <section aria-labelledby="h-data">
      <h2 id="h-data">Data in and out</h2>
      <p>The whole logbook is one file of plain text, one entry a line. It is yours.</p>
      <p class="row wrap lead-in">
        <button type="button" class="quiet" onClick={() => save('exportText', 'jsonl', 'application/jsonl')}>
          Export the logbook
        </button>
        <button type="button" class="quiet" onClick={() => save('exportCsv', 'csv', 'text/csv')}>
          Export as a spreadsheet
        </button>
        <a class="button quiet" href={linkTo('spreadsheet')}>
          Bring in a spreadsheet
        </a>
        <button type="button" class="quiet" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
          Another rig, or an import
        </button>
      </p>
      {open.value && <Doors />}
    </section>
  );
}
