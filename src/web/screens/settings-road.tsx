import { PageForm } from '../shell/spec-form.tsx';
import { Figure, type SettingsPart } from './settings-figure.tsx';

/** Units, and the speed that is kept to. */
export function Road({ view, set }: SettingsPart) {
  const { speedMax } = view;
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
      <section aria-labelledby="h-speed">
        <h2 id="h-speed">The speed you keep to</h2>
        <p>
          Tires are rated for a speed, and carry less above it. The send-off holds this against them. The law’s limit
          for towing and the tires’ own are yours to keep.
        </p>
        <p class="lead-in">
          {speedMax === null ? 'Nothing said yet.' : `You keep to ${speedMax.value} ${speedMax.unit}.`}
        </p>
        <PageForm
          own="speed"
          button="Write the speed"
          beside={
            speedMax !== null && (
              <button type="button" class="quiet" onClick={() => set('speed-max', null)}>
                Take it back
              </button>
            )
          }
        />
      </section>
    </div>
  );
}
