import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf, useAnswer } from '../replica/client.ts';
import type { FormAsk, FormSpec } from '../replica/views/form.ts';
import { FieldGroups, filledIn, inWords } from './fields.tsx';
import { NotYet, Problems } from './problems.tsx';
import { say } from './said.tsx';

interface Parts {
  /** What its button says. */
  readonly button: string;
  /** Stands above the fields, and between them and the button. */
  readonly before?: (spec: FormSpec) => ComponentChildren;
  readonly after?: (spec: FormSpec) => ComponentChildren;
  /** Stands beside the button. */
  readonly beside?: ComponentChildren;
  readonly photos?: () => readonly File[];
  readonly written: () => void;
  readonly class: string;
  /** What is missing is told in our words when it is sent, not in the browser's at the first field. */
  readonly ownWords?: boolean;
}

/** Any form there is, as the worker makes it: its fields, what is wrong with them, what may be meant all the same, and the button that writes. */
export function SpecForm({ about, ...parts }: { readonly about: FormAsk } & Parts) {
  const chosen = useSignal<Readonly<Record<string, string>>>({});
  const wanted = Object.keys(chosen.value).length === 0 ? about : { ...about, chosen: chosen.value };
  const { answer, problems } = useAnswer('form', wanted);
  if (answer === null) return <NotYet problems={problems} doing="Opening …" />;
  const turn = (path: string, value: string): void => {
    chosen.value = { ...chosen.value, [path]: value };
  };
  return <Filling spec={answer} turn={turn} {...parts} />;
}

function Filling(props: { readonly spec: FormSpec; turn(path: string, value: string): void } & Parts) {
  const { spec, turn, button, before, after, beside, photos, written } = props;
  const problems = useSignal<readonly Problem[]>([]);
  const notes = useSignal<readonly string[]>([]);
  const busy = useSignal(false);
  const write = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    // A second tap of an impatient thumb writes nothing twice.
    if (busy.value) return;
    busy.value = true;
    const values = filledIn(event.currentTarget as HTMLFormElement, spec.fields);
    try {
      const filled = await ask('fill', { spec, on: values.on ?? spec.on, values });
      problems.value = filled.problems;
      if (filled.drafts.length === 0) return;
      const fresh = filled.notes ?? [];
      const heard = fresh.every((note) => notes.value.includes(note));
      notes.value = fresh;
      if (!heard) return;
      const { ids, said } = await ask('write', { drafts: filled.drafts, photos: photos?.() ?? [] });
      say(`Written: ${said}`, ids);
      written();
    } catch (error) {
      problems.value = problemsOf(error);
    } finally {
      busy.value = false;
    }
  };
  // Until the first is chosen, there is nothing to write.
  const [first, ...others] = spec.fields;
  const waits = first?.turns === true && first.value === '' && others.length === 0;
  return (
    <form onSubmit={write} class={props.class} noValidate={props.ownWords ?? false}>
      {before?.(spec)}
      <FieldGroups fields={spec.fields} problems={problems.value} turn={turn} />
      {!waits && after?.(spec)}
      <Problems problems={inWords(problems.value, spec.fields)} />
      <div role="status">
        {notes.value.map((note) => (
          <p key={note} class="first-step">
            {note}
          </p>
        ))}
      </div>
      <div class="row wrap form-end">
        {beside}
        {!waits && (
          <button type="submit" class={props.ownWords ? 'quiet' : ''}>
            {notes.value.length > 0 ? `${button} all the same` : button}
          </button>
        )}
      </div>
    </form>
  );
}

/** A form that stands in a page; written, it is empty again. */
export function PageForm(props: {
  readonly own: Extract<FormAsk, { own: unknown }>['own'];
  readonly button: string;
  readonly class?: string;
  readonly beside?: ComponentChildren;
}) {
  const turn = useSignal(0);
  return (
    <SpecForm
      key={turn.value}
      about={{ own: props.own }}
      button={props.button}
      class={props.class ?? 'own-form'}
      beside={props.beside}
      ownWords={true}
      written={() => {
        turn.value += 1;
      }}
    />
  );
}
