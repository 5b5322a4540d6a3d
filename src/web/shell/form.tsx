import { signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import { ask, frame, problemsOf } from '../replica/client.ts';
import type { FormAsk, FormSpec } from '../replica/views/form.ts';
import { CameraField } from './camera.tsx';
import { Cautions } from './cautions.tsx';
import { FieldGroups, filledIn } from './fields.tsx';
import { Problems } from './problems.tsx';
import { say } from './said.tsx';

type Wanted = FormAsk | { readonly choose: true };
const wanted = signal<Wanted | null>(null);

/** Opens a form over the page. `choose`: the list of what can be written down. */
export function openForm(form: Wanted): void {
  if (frame.value?.mayWrite) wanted.value = form;
  else say('You may read this rig, and not write on it.');
}

const close = (): void => {
  wanted.value = null;
};

/** Where forms appear: a native dialog, so that focus stays inside and Escape leaves. */
export function FormHost() {
  const dialog = useRef<HTMLDialogElement>(null);
  const form = wanted.value;
  useEffect(() => {
    if (form && !dialog.current?.open) dialog.current?.showModal();
    if (!form && dialog.current?.open) dialog.current.close();
  }, [form]);
  return (
    <dialog ref={dialog} class="form-dialog" aria-labelledby="form-title" onClose={close}>
      {form && ('choose' in form ? <Chooser /> : <EntryForm key={JSON.stringify(form)} about={form} />)}
    </dialog>
  );
}

const OFFERED: readonly (readonly [kind: Extract<FormAsk, { kind: unknown }>['kind'], text: string])[] = [
  ['reading', 'Something read off a gauge or a label'],
  ['trip', 'A trip planned'],
  ['trip-done', 'A trip finished'],
  ['weigh', 'A weighing'],
  ['fit', 'A part fitted or found'],
  ['remove', 'A part taken off'],
  ['carry', 'Something aboard, or no longer'],
  ['drill', 'Something practised'],
  ['paper', 'A paper renewed'],
  ['adjust', 'An odometer replaced'],
  ['enroll', 'A vehicle of the rig'],
];

function Chooser() {
  return (
    <div>
      <h2 id="form-title">What is to be written down?</h2>
      <p class="soft">Or say it in one line: “repacked axle 2 at 64,120”.</p>
      <ul class="plain choices">
        {OFFERED.map(([kind, text]) => (
          <li key={kind}>
            <button type="button" class="quiet wide" onClick={() => openForm({ kind })}>
              {text}
            </button>
          </li>
        ))}
      </ul>
      <div class="row end">
        <button type="button" class="quiet" onClick={close}>
          Leave
        </button>
      </div>
    </div>
  );
}

function EntryForm({ about }: { readonly about: FormAsk }) {
  const spec = useSignal<FormSpec | null>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const photos = useSignal<readonly File[]>([]);
  const notes = useSignal<readonly string[]>([]);
  useEffect(() => {
    ask('form', about).then(
      (made) => (spec.value = made),
      (error) => (problems.value = problemsOf(error)),
    );
  }, []);
  const made = spec.value;
  if (!made) return <Problems problems={problems.value} />;
  const write = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const values = filledIn(event.currentTarget as HTMLFormElement, made.fields);
    try {
      const filled = await ask('fill', { spec: made, on: values.on ?? made.on, values });
      problems.value = filled.problems;
      if (filled.drafts.length === 0) return;
      const fresh = filled.notes ?? [];
      const heard = fresh.every((note) => notes.value.includes(note));
      notes.value = fresh;
      if (!heard) return;
      const { ids, said } = await ask('write', { drafts: filled.drafts, photos: photos.value });
      say(`Written: ${said}`, ids);
      close();
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  return (
    <form onSubmit={write} class="entry-form">
      <h2 id="form-title">{made.title}</h2>
      <Before cautions={made.cautions} steps={made.steps} />
      <label class="field">
        <span>Day</span>
        <input type="date" name="on" required value={made.on} max={made.latest} />
      </label>
      <FieldGroups fields={made.fields} problems={problems.value} />
      {made.photos && (
        <fieldset>
          <legend>Photos</legend>
          <CameraField label="Take a photo" photos={photos} />
        </fieldset>
      )}
      <Problems problems={problems.value} />
      <div role="status">
        {notes.value.map((note) => (
          <p key={note} class="first-step">
            {note}
          </p>
        ))}
      </div>
      <div class="row end">
        <button type="button" class="quiet" onClick={close}>
          Leave
        </button>
        <button type="submit">{notes.value.length > 0 ? 'Write it down all the same' : 'Write it down'}</button>
      </div>
    </form>
  );
}

function Before({ cautions, steps }: { readonly cautions: readonly string[]; readonly steps: readonly string[] }) {
  return (
    <>
      <Cautions cautions={cautions} />
      {steps.length > 0 && (
        <details>
          <summary>How it is done</summary>
          <ol>
            {steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </details>
      )}
    </>
  );
}
