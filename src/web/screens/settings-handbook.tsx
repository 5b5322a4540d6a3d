import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf, useAnswer } from '../replica/client.ts';
import type { HandbookUpkeep, HandbookView, OverrideReady } from '../replica/views/handbook.ts';
import { Problems } from '../shell/problems.tsx';
import { Figure, type SettingsPart } from './settings-figure.tsx';
import { OwnUpkeep } from './settings-own-upkeep.tsx';

/** What the owner's own handbook says: other intervals and limits, and facts that have no default. */
export function Handbook({ view, set }: SettingsPart) {
  const { answer, problems } = useAnswer('handbook', {});
  return (
    <div class="settings-columns">
      <div>
        <Problems problems={problems} />
        {answer === null ? <p class="soft">Opening …</p> : <Intervals book={answer} set={set} />}
      </div>
      <Facts view={view} set={set} />
    </div>
  );
}

type Set = SettingsPart['set'];

function Intervals({ book, set }: { readonly book: HandbookView; readonly set: Set }) {
  return (
    <section aria-labelledby="h-intervals">
      <h2 id="h-intervals">Intervals and limits of your own</h2>
      <p class="soft">
        Your handbook outranks every default here. Where it says otherwise, or the job takes you longer, say so: the
        outlook, the plan and the send-off go by it at once.
      </p>
      <Problems problems={book.problems} />
      <ul class="plain">
        {book.own.map(({ key, text }) => (
          <li key={key} class="row call-row">
            <span class="grow">{text}</span>
            <button type="button" class="quiet" aria-label={`Take back ${text}`} onClick={() => set(key, null)}>
              Take back
            </button>
          </li>
        ))}
      </ul>
      {book.upkeeps.length === 0 ? (
        <p>No part is on record yet, so there is no upkeep either.</p>
      ) : (
        <>
          <OverrideForm upkeeps={book.upkeeps} set={set} />
          <OwnUpkeep kinds={book.kinds} set={set} />
        </>
      )}
    </section>
  );
}

function OverrideForm({ upkeeps, set }: { readonly upkeeps: readonly HandbookUpkeep[]; readonly set: Set }) {
  const chosen = useSignal('');
  const figureId = useSignal('');
  const ready = useSignal<OverrideReady | null>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const upkeep = upkeeps.find(({ id }) => id === chosen.value);
  const figure = upkeep?.figures.find(({ id }) => id === figureId.value) ?? upkeep?.figures[0];
  const write = async (one: OverrideReady, form: HTMLFormElement | null): Promise<void> => {
    problems.value = await set(one.key, one.value);
    ready.value = null;
    if (problems.value.length > 0) return;
    form?.reset();
    chosen.value = '';
  };
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    if (ready.value !== null) return write(ready.value, form);
    const data = new FormData(form);
    const text = (name: string): string => String(data.get(name) ?? '');
    try {
      problems.value = [];
      const one = await ask('override', {
        upkeep: chosen.value,
        figure: figure?.id ?? '',
        part: text('part'),
        value: text('value'),
        unit: text('unit'),
        source: text('source'),
      });
      if (one.odd === '') await write(one, form);
      else ready.value = one;
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  const wrong = (field: string) => (problems.value.some(({ where }) => where === field) ? true : undefined);
  return (
    <form onSubmit={save} onInput={() => (ready.value = null)} noValidate class="override">
      <label class="field">
        <span>Upkeep</span>
        <select name="upkeep" value={chosen.value} onChange={(event) => (chosen.value = event.currentTarget.value)}>
          <option value="">Pick what your handbook speaks of</option>
          {upkeeps.map(({ id, title }) => (
            <option key={id} value={id} selected={id === chosen.value}>
              {title}
            </option>
          ))}
        </select>
      </label>
      {upkeep !== undefined && figure !== undefined && (
        <>
          <label class="field">
            <span>Which figure</span>
            <select name="figure" value={figure.id} onChange={(event) => (figureId.value = event.currentTarget.value)}>
              {upkeep.figures.map(({ id, label }) => (
                <option key={id} value={id} selected={id === figure.id}>
                  {label}
                </option>
              ))}
            </select>
          </label>
          <p class="soft" id="override-usual">
            Where you say nothing: {figure.usual}
            {figure.source === '' ? '' : ` (${figure.source})`}
            {figure.range === '' ? '.' : `; sources say ${figure.range}.`}
          </p>
          <div class="field">
            <label for="override-value">Yours</label>
            <div class="row">
              <input
                id="override-value"
                name="value"
                inputMode="decimal"
                autocomplete="off"
                aria-describedby="override-usual"
                aria-invalid={wrong('value')}
              />
              <select name="unit" class="narrow-select" aria-label="Unit of your figure" key={figure.id}>
                {figure.units.map(({ value, label }) => (
                  <option key={value} value={value}>
                    {label}
                  </option>
                ))}
              </select>
            </div>
          </div>
          <label class="field">
            <span>On which part</span>
            <select name="part">
              <option value="">{upkeep.parts.length === 1 ? 'The one on the rig' : 'All of them'}</option>
              {upkeep.parts.length > 1 &&
                upkeep.parts.map(({ value, label }) => (
                  <option key={value} value={value}>
                    {label}
                  </option>
                ))}
            </select>
          </label>
          <label class="field">
            <span>Where it comes from</span>
            <input
              name="source"
              autocomplete="off"
              maxLength={120}
              placeholder="Axle handbook, page 14"
              aria-invalid={wrong('source')}
            />
          </label>
          <Problems problems={problems.value} />
          {ready.value !== null && (
            <div class="caution" role="alert">
              <b>{ready.value.said}.</b> {ready.value.odd}
            </div>
          )}
          <button type="submit" class="quiet">
            {ready.value === null ? 'Write your figure' : 'It is right: write it'}
          </button>
        </>
      )}
    </form>
  );
}

/** A bare number is kept as one, so that what needs a number finds it. */
const asFact = (text: unknown): unknown =>
  typeof text === 'string' && /^\d+(\.\d+)?$/.test(text) ? Number(text) : text;

function Facts({ view, set }: SettingsPart) {
  return (
    <section aria-labelledby="h-facts">
      <h2 id="h-facts">What only your handbook can say</h2>
      <p class="soft">Makers contradict each other about these. Until you write yours down they are unknown.</p>
      {view.facts.map((one) => (
        <div key={one.id} class="fact">
          <Figure
            label={one.title}
            value={one.value}
            placeholder="Not on record"
            save={(value) => set(`fact/${one.id}`, asFact(value))}
          />
          <details>
            <summary>Where to look, and why it matters</summary>
            <p>
              {one.ask} {one.why}
            </p>
            <ul class="call-whom">
              {one.disagree.map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </details>
        </div>
      ))}
    </section>
  );
}
