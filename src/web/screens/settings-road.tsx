import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { Problems } from '../shell/problems.tsx';
import { Figure, numberFrom, type SettingsPart } from './settings-figure.tsx';

/** From a crawl to what no trailer tire is made for. */
const SPEEDS = { mph: [20, 90], 'km/h': [30, 145] } as const;

/** Units, and the speed that is kept to. */
export function Road({ view, set }: SettingsPart) {
  return (
    <div class="settings-columns">
      <section aria-labelledby="h-units">
        <h2 id="h-units">Units</h2>
        <Figure
          label="Figures are shown in"
          value={view.units}
          choices={[
            ['us', 'US customary: miles, pounds, psi'],
            ['metric', 'Metric: kilometres, kilograms, kPa'],
          ]}
          help="Whatever unit you write is understood; this is about what you are shown."
          save={(value) => set('units', value)}
        />
      </section>
      <Speed view={view} set={set} />
    </div>
  );
}

function Speed({ view, set }: SettingsPart) {
  const problems = useSignal<readonly Problem[]>([]);
  const { speedMax } = view;
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const unit = data.get('unit') === 'km/h' ? 'km/h' : 'mph';
    const [least, most] = SPEEDS[unit];
    const read = numberFrom(least, most, unit)(String(data.get('speed')));
    problems.value =
      'wrong' in read
        ? [{ code: 'web.figure', what: read.wrong.replace(/\.$/, '') }]
        : await set('speed-max', { value: read.value, unit });
  };
  const usual = speedMax?.unit ?? (view.units === 'metric' ? 'km/h' : 'mph');
  return (
    <section aria-labelledby="h-speed">
      <h2 id="h-speed">The speed you keep to</h2>
      <p>
        Tires are rated for a speed, and carry less above it. The send-off holds this against them. The law’s limit for
        towing and the tires’ own are yours to keep.
      </p>
      <p class="lead-in">
        {speedMax === null ? 'Nothing said yet.' : `You keep to ${speedMax.value} ${speedMax.unit}.`}
      </p>
      <form key={`${speedMax?.value} ${usual}`} onSubmit={save} noValidate>
        <div class="field">
          <label for="speed">Fastest on the road</label>
          <div class="row">
            <input
              id="speed"
              name="speed"
              inputMode="decimal"
              autocomplete="off"
              aria-invalid={problems.value.length > 0 ? true : undefined}
              defaultValue={speedMax === null ? '' : String(speedMax.value)}
            />
            <select name="unit" class="narrow-select" aria-label="Unit of the speed">
              {Object.keys(SPEEDS).map((unit) => (
                <option key={unit} value={unit} selected={unit === usual}>
                  {unit}
                </option>
              ))}
            </select>
          </div>
        </div>
        <Problems problems={problems.value} />
        <p class="row wrap below-row">
          <button type="submit" class="quiet">
            Write the speed
          </button>
          {speedMax !== null && (
            <button type="button" class="quiet" onClick={() => set('speed-max', null)}>
              Take it back
            </button>
          )}
        </p>
      </form>
    </section>
  );
}
