import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import { numberWithin } from '../replica/number-within.ts';
import type { SettingsView } from '../replica/views/settings.ts';
import { say } from '../shell/said.tsx';

/** What every page of settings is given: the figures as they stand, and the way to write one. */
export interface SettingsPart {
  readonly view: SettingsView;
  /** Writes an own figure down, `null` takes it back. The problems against it; none where it was written. */
  readonly set: (key: string, value: unknown) => Promise<readonly Problem[]>;
}

export async function writeSetting(key: string, value: unknown): Promise<readonly Problem[]> {
  try {
    const { said, ids } = await ask('set', { key, value });
    say(`Written: ${said}`, ids);
    return [];
  } catch (error) {
    return problemsOf(error);
  }
}

/** A text as the value to be kept, or what is wrong with it. */
export type Reading = { readonly value: unknown } | { readonly wrong: string };
export type Reader = (text: string) => Reading;

export const asText: Reader = (value) => ({ value });

/** A number within bounds; thousands may be set off by commas. */
export const numberFrom =
  (least: number, most: number, unit = ''): Reader =>
  (text) => {
    const read = numberWithin(text, least, most, unit);
    if (read.ok) return read;
    return { wrong: read.problems.map(({ what, expected }) => `${what}. Expected: ${expected}.`).join(' ') };
  };

/** Letters on one line of a field on a phone, for browsers where a field does not grow by itself. */
const LINE = 36;

/** One figure: a field, and buttons that are there only when something was changed. Emptied, it is taken back. */
export function Figure(props: {
  readonly label: string;
  readonly value: string;
  readonly help?: string;
  readonly unit?: string;
  readonly placeholder?: string;
  readonly choices?: readonly (readonly [value: string, name: string])[];
  readonly read?: Reader;
  /** It may be a sentence: the field grows, so that all of it is seen. */
  readonly sentence?: boolean;
  readonly save: (value: unknown) => Promise<readonly Problem[]>;
}) {
  const { label, value, help, unit, placeholder = '', choices, read = asText } = props;
  const typed = useSignal<string | null>(null);
  const wrong = useSignal('');
  const id = `figure-${label.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`;
  const now = typed.value ?? value;
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const reading: Reading = now.trim() === '' ? { value: null } : read(now.trim());
    if ('wrong' in reading) {
      wrong.value = reading.wrong;
      return;
    }
    const problems = await props.save(reading.value);
    wrong.value = problems
      .map(({ what, expected }) => `${what}${expected ? `. Expected: ${expected}` : ''}.`)
      .join(' ');
    if (problems.length === 0) typed.value = null;
  };
  const described = [help && `${id}-help`, wrong.value && `${id}-wrong`].filter(Boolean).join(' ');
  const about = {
    id,
    'aria-describedby': described === '' ? undefined : described,
    'aria-invalid': wrong.value === '' ? undefined : true,
  };
  const changed = typed.value !== null && typed.value !== value;
  const type = (text: string): void => {
    typed.value = text;
    wrong.value = '';
  };
  return (
    <form class="figure" onSubmit={save} noValidate>
      <div class="field">
        <label for={id}>{label}</label>
        <div class="row">
          {choices ? (
            <select {...about} value={now} onChange={(event) => type(event.currentTarget.value)}>
              {value === '' && <option value="">Nothing said yet</option>}
              {choices.map(([one, name]) => (
                <option key={one} value={one} selected={one === now}>
                  {name}
                </option>
              ))}
            </select>
          ) : props.sentence ? (
            <textarea
              {...about}
              class="grows"
              rows={Math.max(1, Math.ceil(now.length / LINE))}
              value={now}
              placeholder={placeholder}
              autocomplete="off"
              onInput={(event) => type(event.currentTarget.value)}
              onKeyDown={(event) => {
                if (event.key !== 'Enter') return;
                event.preventDefault();
                event.currentTarget.form?.requestSubmit();
              }}
            />
          ) : (
            <input
              {...about}
              value={now}
              placeholder={placeholder}
              inputMode={props.read === undefined ? 'text' : 'decimal'}
              autocomplete="off"
              onInput={(event) => type(event.currentTarget.value)}
            />
          )}
          {unit !== undefined && <span class="figure-unit">{unit}</span>}
          {changed && (
            <button type="submit" aria-label={`Write: ${label}`}>
              {now.trim() === '' ? 'Take back' : 'Write'}
            </button>
          )}
        </div>
        {help !== undefined && (
          <small class="soft" id={`${id}-help`}>
            {help}
          </small>
        )}
        {wrong.value !== '' && (
          <small class="wrong" id={`${id}-wrong`} role="alert">
            {wrong.value}
          </small>
        )}
      </div>
    </form>
  );
}
