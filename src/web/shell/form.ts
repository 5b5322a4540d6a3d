import { signal } from '@preact/signals';
import { frame } from '../replica/client.ts';
import type { FormAsk } from '../replica/views/form.ts';
import { say } from './said.tsx';

export type Wanted = FormAsk | { readonly choose: true };

/** The form that is wanted over the page, if any. */
export const wanted = signal<Wanted | null>(null);

/** Opens a form over the page. `choose`: the list of what can be written down. */
export function openForm(form: Wanted): void {
  if (frame.value?.mayWrite) wanted.value = form;
  else say('You may read this rig, and not write on it.');
}

export const closeForm = (): void => {
  wanted.value = null;
};
