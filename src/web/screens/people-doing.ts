import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { problemsOf } from '../replica/client.ts';

export type Role = 'reader' | 'helper' | 'owner';
export const ROLES: readonly (readonly [role: Role, text: string])[] = [
  ['reader', 'reader: sees everything'],
  ['helper', 'helper: sees and writes'],
  ['owner', 'owner: also decides who may'],
];

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
