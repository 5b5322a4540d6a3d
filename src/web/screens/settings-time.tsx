import { PageForm } from '../shell/spec-form.tsx';
import { Figure, type Reader, type SettingsPart } from './settings-figure.tsx';
import { OwnList } from './settings-own.tsx';

/** Which days, for how long; single days; frost. */
export function Time({ view, set }: SettingsPart) {
  return (
    <div class="settings-columns">
      <div>
        <section aria-labelledby="h-week">
          <h2 id="h-week">Hours in a usual week</h2>
          {!view.weekdaysSaid && <p>Nothing is said yet: the plan guesses these.</p>}
          <PageForm own="week" button="Write the week" class="week" />
        </section>
        <section aria-labelledby="h-days">
          <h2 id="h-days">Days other than that</h2>
          <OwnList
            lines={view.days.map(({ key, text, hours }) => ({
              key: `day/${key}`,
              text: `${text}: ${hours === 0 ? 'not at all' : `${hours} h`}`,
            }))}
            set={set}
          />
          <PageForm own="singleDay" button="Write this day" class="two-fields" />
        </section>
      </div>
      <section aria-labelledby="h-frost">
        <h2 id="h-frost">Frost at home</h2>
        <Figure
          label="First freeze"
          help="Month and day, as 10-12. Before it the water is out of the pipes."
          value={view.firstFreeze}
          placeholder="10-12"
          read={monthDay}
          save={(value) => set('first-freeze', value)}
        />
        <Figure
          label="Last freeze"
          help="Month and day, as 04-20. No water before it."
          value={view.lastFreeze}
          placeholder="04-20"
          read={monthDay}
          save={(value) => set('last-freeze', value)}
        />
      </section>
    </div>
  );
}

const monthDay: Reader = (text) => {
  const [, month, day] = /^(\d{1,2})[-/. ](\d{1,2})$/.exec(text) ?? [];
  const two = (part: string): string => part.padStart(2, '0');
  // A leap year, so that 29 February is a day.
  const known = month && day && !Number.isNaN(Date.parse(`2024-${two(month)}-${two(day)}T00:00Z`));
  const real = known && new Date(`2024-${two(month)}-${two(day)}T00:00Z`).getUTCDate() === Number(day);
  return real
    ? { value: `${two(month)}-${two(day)}` }
    : { wrong: `“${text}” is no month and day. Expected: 10-12 for 12 October.` };
};
