import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { problemsOf } from '../replica/client.ts';
import type { Role } from '../replica/line.ts';

export const ROLES: readonly (readonly [role: Role, text: string])[] = [
  ['reader', 'reader: sees everything'],
  ['helper', 'helper: sees and writes'],
  ['owner', 'owner: also decides who may'],
];

export interface Session {
  readonly mode: 'local' | 'accounts';
  readonly kind: 'local' | 'account' | 'link' | 'nobody';
  readonly person: { readonly account: string; readonly name: string; readonly shown: string } | null;
}

/** A button or a form that asks the server for something; what went wrong is said where it stands. */
export interface Doing {
  readonly problems: readonly Problem[];
  run(work: () => Promise<void>): Promise<void>;
}

export function useDoing(): Doing {
  const problems = useSignal<readonly Problem[]>([]);
  return {
    problems: problems.value,
    async run(work) {
      try {
        problems.value = [];
        await work();
      } catch (error) {
        problems.value = problemsOf(error);
      }
    },
  };
}

export const textOf = (event: SubmitEvent, name: string): string =>
  String(new FormData(event.currentTarget as HTMLFormElement).get(name) ?? '');

/** The day of an instant, as it is on this device. */
export const dayOf = (instant: string): string =>
  new Date(instant).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

/** The hour and minute of an instant on this device: `14:05`. */
export const timeOf = (instant: string): string =>
  new Date(instant).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });

/** Empties one field of a form that was used; what was chosen beside it stays for the next. */
export function emptyField(form: HTMLFormElement, name: string): void {
  const field = form.elements.namedItem(name);
  if (field instanceof HTMLInputElement) field.value = '';
}
