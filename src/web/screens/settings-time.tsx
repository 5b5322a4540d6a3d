import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { frame } from '../replica/client.ts';
import { Problems } from '../shell/problems.tsx';
import { Figure, numberFrom, type Reader, type SettingsPart } from './settings-figure.tsx';

export const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
/** Monday first, as a week of work goes. */
const ORDER = [1, 2, 3, 4, 5, 6, 0];

/** Which days, for how long; single days; frost. */
export function Time({ view, set }: SettingsPart) {
  return (
    <div class="settings-columns">
      <div>
        <Week view={view} set={set} />
        <SingleDays view={view} set={set} />
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

/** The week: hours on each day, none where it is not free. */
function Week({ view, set }: SettingsPart) {
  const problems = useSignal<readonly Problem[]>([]);
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const free: [day: number, hours: number][] = [];
    for (const day of ORDER) {
      const text = String(data.get(`hours-${day}`)).trim();
      const read = text === '' ? { value: 0 } : numberFrom(0, 24, 'hours')(text);
      if ('wrong' in read) {
        problems.value = [{ code: 'web.figure', what: `${DAYS[day]}: ${read.wrong.replace(/\.$/, '')}` }];
        return;
      }
      const hours = read.value as number;
      if (hours > 0) free.push([day, hours]);
    }
    // The usual hours are those of most days: the schema keeps one figure and the days that differ.
    const counts = new Map<number, number>();
    for (const [, hours] of free) counts.set(hours, (counts.get(hours) ?? 0) + 1);
    const usual = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 6;
    const others = free.filter(([, hours]) => hours !== usual);
    problems.value = await set('free-days', {
      weekdays: free.map(([day]) => day),
      hours: usual,
      ...(others.length > 0 ? { hoursOn: Object.fromEntries(others) } : {}),
    });
  };
  return (
    <section aria-labelledby="h-week">
      <h2 id="h-week">Hours in a usual week</h2>
      {!view.weekdaysSaid && <p>Nothing is said yet: the plan guesses these.</p>}
      <form onSubmit={save} noValidate>
        <div class="week">
          {ORDER.map((day) => (
            <label key={day} class="week-day">
              <span>{DAYS[day]}</span>
              <input
                name={`hours-${day}`}
                inputMode="decimal"
                autocomplete="off"
                aria-label={`Hours on ${DAYS[day]}`}
                placeholder="none"
                defaultValue={view.weekdays[day] === 0 ? '' : String(view.weekdays[day])}
              />
              <span class="figure-unit">h</span>
            </label>
          ))}
        </div>
        <Problems problems={problems.value} />
        <button type="submit" class="quiet">
          Write the week
        </button>
      </form>
    </section>
  );
}

/** Days other than the rule: a holiday spent at home, a Saturday given away. */
function SingleDays({ view, set }: SettingsPart) {
  const problems = useSignal<readonly Problem[]>([]);
  const save = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    const read = numberFrom(0, 24, 'hours')(String(data.get('hours')));
    const date = String(data.get('date'));
    if ('wrong' in read || date === '') {
      problems.value = [
        'wrong' in read
          ? { code: 'web.figure', what: read.wrong.replace(/\.$/, '') }
          : { code: 'web.figure', what: 'Say which day', expected: 'a date' },
      ];
      return;
    }
    problems.value = await set(`day/${date}`, { hours: read.value });
    if (problems.value.length === 0) form.reset();
  };
  return (
    <section aria-labelledby="h-days">
      <h2 id="h-days">Days other than that</h2>
      <ul class="plain">
        {view.days.map(({ key, text, hours }) => (
          <li key={key} class="row call-row">
            <span class="grow">
              {text}: {hours === 0 ? 'not at all' : `${hours} h`}
            </span>
            <button
              type="button"
              class="quiet"
              aria-label={`Take back ${text}`}
              onClick={() => set(`day/${key}`, null)}
            >
              Take back
            </button>
          </li>
        ))}
      </ul>
      <form onSubmit={save} noValidate>
        <div class="two-fields">
          <label class="field">
            <span>Day</span>
            <input name="date" type="date" min={frame.value?.today} />
          </label>
          <label class="field">
            <span>Hours, 0 for none</span>
            <input name="hours" inputMode="decimal" autocomplete="off" />
          </label>
        </div>
        <Problems problems={problems.value} />
        <button type="submit" class="quiet">
          Write this day
        </button>
      </form>
    </section>
  );
}
