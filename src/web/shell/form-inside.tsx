import { useSignal } from '@preact/signals';
import type { FormAsk, FormSpec } from '../replica/views/form.ts';
import { KINDS_OFFERED, kindTitle } from '../replica/views/form-kinds.ts';
import { CameraField } from './camera.tsx';
import { Cautions } from './cautions.tsx';
import { closeForm, openForm, type Wanted } from './form.ts';
import { SpecForm } from './spec-form.tsx';

/** What stands in the dialog: the list of what can be written down, or one form. */
export function FormInside({ form }: { readonly form: Wanted }) {
  return 'choose' in form ? <Chooser /> : <EntryForm key={JSON.stringify(form)} about={form} />;
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
        <button type="button" class="quiet" onClick={closeForm}>
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
      written={closeForm}
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
        <button type="button" class="quiet" onClick={closeForm}>
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
