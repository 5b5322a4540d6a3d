import { useSignal } from '@preact/signals';
import './reckon.css';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf, useAnswer } from '../replica/client.ts';
import type { CalculationAnswer, CalculationForm } from '../replica/views/reckon.ts';
import { FieldGroups, filledIn } from '../shell/fields.tsx';
import { Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';

const ROOMS: Readonly<Record<string, string>> = {
  codes: 'Codes and dates',
  tires: 'Tires',
  loads: 'Weights and hitch',
  gas: 'LP gas',
  power: 'Power',
  water: 'Water',
  brakes: 'Brakes and wheel nuts',
};

/** Every calculation of the register as a form, filled from the rig where it knows. */
export function Reckon() {
  const [id] = route.value.rest;
  return id === undefined ? <All /> : <One key={id} id={id} />;
}

function All() {
  const { answer } = useAnswer('calculations', {});
  const rooms = [...new Set(answer?.map((one) => one.room) ?? [])];
  return (
    <>
      <Title>Reckon something</Title>
      <div class="reckon-rooms">
        {rooms.map((room) => (
          <section key={room} aria-label={ROOMS[room] ?? room}>
            <h2>{ROOMS[room] ?? room}</h2>
            <ul class="plain">
              {answer
                ?.filter((one) => one.room === room)
                .map((one) => (
                  <li key={one.id}>
                    <a class="reckon-link" href={linkTo('reckon', one.id)}>
                      <b>{one.title}</b>
                      <span class="soft">{one.summary}</span>
                    </a>
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </div>
    </>
  );
}

function One({ id }: { readonly id: string }) {
  const { answer, working } = useAnswer('calculation', { id });
  if (!answer) {
    return (
      <>
        <Title aria-busy={working}>{working ? 'Reckon' : 'There is no such calculation'}</Title>
        <a href={linkTo('reckon')}>All of them</a>
      </>
    );
  }
  return <Filled form={answer} />;
}

function Filled({ form }: { readonly form: CalculationForm }) {
  const result = useSignal<CalculationAnswer | null>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const run = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const values = filledIn(event.currentTarget as HTMLFormElement, form.fields);
    try {
      result.value = await ask('reckon', { id: form.id, fields: form.fields, values });
      problems.value = [];
    } catch (error) {
      problems.value = problemsOf(error);
      result.value = null;
    }
  };
  return (
    <>
      <Title>{form.title}</Title>
      <p class="soft lead-in">
        {form.summary} <a href={linkTo('reckon')}>All calculations</a>
      </p>
      <div class="reckon-columns">
        <form onSubmit={run} noValidate>
          <FieldGroups fields={form.fields} problems={problems.value} />
          <Problems problems={problems.value} />
          <div class="row end">
            <button type="submit">Reckon</button>
          </div>
        </form>
        <div aria-live="polite">
          {result.value && <Result result={result.value} />}
          <section aria-labelledby="h-how">
            <h2 id="h-how">How it is reckoned</h2>
            <p>{form.formula}</p>
            <p class="soft">{form.range}</p>
            <ul class="call-whom">
              {form.sources.map((source) => (
                <li key={source}>{source}</li>
              ))}
            </ul>
          </section>
        </div>
      </div>
    </>
  );
}

function Result({ result }: { readonly result: CalculationAnswer }) {
  return (
    <section aria-labelledby="h-answer">
      <h2 id="h-answer">Answer</h2>
      <table class="identity">
        <tbody>
          {result.rows.map(({ name, value, doubt }) => (
            <tr key={`${name} ${value}`}>
              <th scope="row">{name}</th>
              <td>
                <b>{value}</b>
                {doubt !== '' && <small class="soft">{doubt}</small>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {result.doubt !== '' && <p class="soft">Bounds: {result.doubt}</p>}
      {result.limitedBy !== '' && <p>Limited by {result.limitedBy}.</p>}
      {result.assumed.length > 0 && <p class="soft">Assumed: {result.assumed.join('; ')}.</p>}
      {result.cautions.length > 0 && (
        <div class="caution">
          <b>Mind:</b> {result.cautions.join(' ')}
        </div>
      )}
    </section>
  );
}
