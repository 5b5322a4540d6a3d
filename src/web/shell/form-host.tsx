import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { frame } from '../replica/client.ts';
import { closeForm, wanted } from './form.ts';

/** What stands in the dialog is not needed for a first judgement: it comes after, or at the latest when a form is asked for. */
const inside = signal<typeof import('./form-inside.tsx') | null>(null);
let coming = false;
export async function formsComeAlong(): Promise<void> {
  if (coming) return;
  coming = true;
  try {
    inside.value = await import('./form-inside.tsx');
  } catch {
    coming = false;
  }
}

/** Where forms appear: a native dialog, so that focus stays inside and Escape leaves. */
export function FormHost() {
  const dialog = useRef<HTMLDialogElement>(null);
  // Whoever was made a reader meanwhile has no form open any more.
  const form = frame.value?.mayWrite ? wanted.value : null;
  const Inside = inside.value?.FormInside;
  const shown = form !== null && Inside !== undefined;
  useEffect(() => {
    if (form !== null) void formsComeAlong();
  }, [form]);
  useEffect(() => {
    if (shown && !dialog.current?.open) dialog.current?.showModal();
    if (!shown && dialog.current?.open) dialog.current.close();
  }, [shown]);
  return (
    <dialog ref={dialog} class="form-dialog" aria-labelledby="form-title" onClose={closeForm}>
      {form && Inside && <Inside form={form} />}
    </dialog>
  );
}
