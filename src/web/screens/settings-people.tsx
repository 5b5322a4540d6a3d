import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, frame } from '../replica/client.ts';
import { Problems } from '../shell/problems.tsx';
import { say } from '../shell/said.tsx';
import { Figure, type SettingsPart } from './settings-figure.tsx';

/** Who writes on this device, and whom to call. */
export function Names({ view, set }: SettingsPart) {
  const problems = useSignal<readonly Problem[]>([]);
  const call = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    const name = String(data.get('name')).trim();
    const key =
      name
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, '-')
        .replace(/^-|-$/g, '') || 'call';
    problems.value = await set(`call/${key}`, { name, number: String(data.get('number')).trim() });
    if (problems.value.length === 0) form.reset();
  };
  return (
    <div class="settings-columns">
      <section aria-labelledby="h-writer">
        <h2 id="h-writer">Who writes</h2>
        <Figure
          label="Who writes on this device"
          help="Every entry from here is signed with this name."
          value={frame.value?.by ?? ''}
          save={async (name) => {
            if (name === null) return [{ code: 'web.figure', what: 'Somebody writes', expected: 'a name' }];
            await ask('signAs', { name: String(name) });
            say(`Entries from this device are signed ${name}.`);
            return [];
          }}
        />
      </section>
      <section aria-labelledby="h-calls">
        <h2 id="h-calls">Whom to call at the roadside</h2>
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
          <Problems problems={problems.value} />
          <button type="submit" class="quiet">
            Write whom to call
          </button>
        </form>
      </section>
    </div>
  );
}
