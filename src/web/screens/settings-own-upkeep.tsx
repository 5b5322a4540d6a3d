import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import type { Choice } from '../replica/views/form-fields.ts';
import { Problems } from '../shell/problems.tsx';
import type { SettingsPart } from './settings-figure.tsx';

const UNITS = ['months', 'years', 'mi', 'km', 'nights'];

const SEVERITIES = [
  ['comfort', 'comfort: a nuisance'],
  ['damage', 'damage: something breaks'],
  ['safety', 'safety: somebody may be hurt'],
] as const;

/** An upkeep that is in no list of ours: it is planned and proven like any other. */
export function OwnUpkeep({ kinds, set }: { readonly kinds: readonly Choice[]; readonly set: SettingsPart['set'] }) {
  const problems = useSignal<readonly Problem[]>([]);
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    const text = (name: string): string => String(data.get(name) ?? '');
    try {
      const { key, value } = await ask('ownUpkeep', {
        ...{ title: text('title'), part: text('kind'), every: text('every'), unit: text('unit') },
        ...{
          severity: text('severity'),
          minutes: text('minutes'),
          failureCost: text('failureCost'),
          source: text('source'),
        },
      });
      problems.value = await set(key, value);
      if (problems.value.length === 0) form.reset();
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  const wrong = (field: string) => (problems.value.some(({ where }) => where === field) ? true : undefined);
  const named = (name: string) => ({ name, autocomplete: 'off', 'aria-invalid': wrong(name) });
  return (
    <details>
      <summary>Add an upkeep that is not in the list</summary>
      <form onSubmit={save} noValidate class="override">
        <label class="field">
          <span>What is to be done</span>
          <input {...named('title')} maxLength={80} placeholder="Oil the awning’s arms" />
        </label>
        <label class="field">
          <span>On which kind of part</span>
          <select name="kind">
            {kinds.map(({ value, label }) => (
              <option key={value} value={value}>
                {label}
              </option>
            ))}
          </select>
        </label>
        <div class="field">
          <label for="own-every">How often: every</label>
          <div class="row">
            <input id="own-every" {...named('every')} inputMode="decimal" />
            <select name="unit" class="narrow-select" aria-label="Unit of how often">
              {UNITS.map((unit) => (
                <option key={unit} value={unit}>
                  {unit}
                </option>
              ))}
            </select>
          </div>
        </div>
        <label class="field">
          <span>What is at stake</span>
          <select name="severity">
            {SEVERITIES.map(([value, label]) => (
              <option key={value} value={value}>
                {label}
              </option>
            ))}
          </select>
        </label>
        <div class="two-fields">
          <label class="field">
            <span>Minutes it takes</span>
            <input {...named('minutes')} inputMode="numeric" />
          </label>
          <label class="field">
            <span>Cost if it fails away</span>
            <input {...named('failureCost')} inputMode="decimal" />
          </label>
        </div>
        <label class="field">
          <span>Where this comes from</span>
          <input {...named('source')} maxLength={120} placeholder="Awning handbook, page 3" />
        </label>
        <Problems problems={problems.value} />
        <button type="submit" class="quiet">
          Write this upkeep
        </button>
      </form>
    </details>
  );
}
