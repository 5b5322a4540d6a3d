import { signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { frame } from '../replica/client.ts';
import type { FormAsk, FormSpec } from '../replica/views/form.ts';
import { KINDS_OFFERED, kindTitle } from '../replica/views/form-kinds.ts';
import { CameraField } from './camera.tsx';
import { Cautions } from './cautions.tsx';
import { say } from './said.tsx';
import { SpecForm } from './spec-form.tsx';

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
  // Whoever was made a reader meanwhile has no form open any more.
  const form = frame.value?.mayWrite ? wanted.value : null;
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

function Chooser() {
  return (
    <div>
      <h2 id="form-title">What is to be written down?</h2>
      <p class="soft">Or say it in one line: “repacked axle 2 at 64,120”.</p>
      <ul class="plain choices">
        {KINDS_OFFERED.map((kind) => (
          <li key={kind}>
            <button type="button" class="quiet wide" onClick={() => openForm({ kind })}>
              {kindTitle(kind)}
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
  const photos = useSignal<readonly File[]>([]);
  return (
    <SpecForm
      about={about}
      button="Write it down"
      class="entry-form"
      written={close}
      photos={() => photos.value}
      before={(spec) => <Before spec={spec} />}
      after={(spec) =>
        spec.photos && (
          <fieldset>
            <legend>Photos</legend>
            <CameraField label="Take a photo" photos={photos} />
          </fieldset>
        )
      }
      beside={
        <button type="button" class="quiet" onClick={close}>
          Leave
        </button>
      }
    />
  );
}

/** Ticks every job of a form as good. */
function allGood(form: HTMLFormElement | null): void {
  for (const good of form?.querySelectorAll<HTMLInputElement>('.aside input[value=good]') ?? []) good.checked = true;
}

/** What it is about, how it is done, and the day it speaks of. */
function Before({ spec }: { readonly spec: FormSpec }) {
  return (
    <>
      <h2 id="form-title">{spec.title}</h2>
      <Cautions cautions={spec.cautions} />
      {spec.steps.length > 0 && (
        <details>
          <summary>How it is done</summary>
          <ol>
            {spec.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </details>
      )}
      <label class="field">
        <span>Day</span>
        <input type="date" name="on" required defaultValue={spec.on} max={spec.latest} />
      </label>
      {spec.several && (
        <button type="button" class="quiet below" onClick={({ currentTarget }) => allGood(currentTarget.form)}>
          All of them, and good
        </button>
      )}
    </>
  );
}
