import { Figure, numberFrom, type SettingsPart } from './settings-figure.tsx';

const times = (factor: number): string => (factor === 1 ? 'as it costs' : `${factor} times`);

/** What the plan weighs: hours, yard days, and the chance that something runs out on the road. */
export function Worth({ view, set }: SettingsPart) {
  const percent = (severity: string, usual: number): string =>
    String(Math.round((view.alpha[severity] ?? usual) * 1000) / 10);
  const chance = numberFrom(0.1, 99, '%');
  const asShare = (save: (share: unknown) => ReturnType<typeof set>) => (value: unknown) =>
    save(value === null ? null : (value as number) / 100);
  return (
    <div class="settings-columns">
      <section aria-labelledby="h-worth">
        <h2 id="h-worth">What it is worth</h2>
        <Figure
          label="An hour of your work, in money"
          value={String(view.hourlyValue ?? '')}
          placeholder="25 where you say nothing"
          read={numberFrom(0, 1000)}
          save={(value) => set('hourly-value', value)}
        />
        <Figure
          label="Opening a yard day, in money"
          help="Fetching tools, an afternoon gone, before any work is done."
          value={String(view.dayCost ?? '')}
          placeholder="25 where you say nothing"
          read={numberFrom(0, 1000)}
          save={(value) => set('day-cost', value)}
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
      </section>
      <section aria-labelledby="h-risk">
        <h2 id="h-risk">What may be risked</h2>
        <p class="soft">
          The greatest chance you accept that a matter runs out before you are back. Above it, the judgement is “hold”.
        </p>
        <Figure
          label="Where safety is at stake"
          unit="%"
          value={percent('safety', 0.05)}
          read={chance}
          save={asShare((share) => set('alpha/safety', share))}
        />
        <Figure
          label="Where only damage is at stake"
          unit="%"
          value={percent('damage', 0.2)}
          read={chance}
          save={asShare((share) => set('alpha/damage', share))}
        />
      </section>
    </div>
  );
}
