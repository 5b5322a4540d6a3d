import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { api } from '../shell/api.ts';
import { Problems } from '../shell/problems.tsx';
import { dayOf, timeOf, useDoing } from './people-doing.ts';

interface Line {
  readonly id: string;
  readonly at: string;
  readonly text: string;
}

/** Who was let in and shut out: a log that only grows, for owners. */
export function AccountLog({ rig }: { readonly rig: string }) {
  const lines = useSignal<readonly Line[] | null>(null);
  const doing = useDoing();
  const look = (): void =>
    void doing.run(async () => {
      lines.value = (await api<{ log: Line[] }>('GET', `/api/rigs/${rig}/account-log`)).log;
    });
  useEffect(() => {
    lines.value = null;
  }, [rig]);
  return (
    <section aria-labelledby="h-log">
      <h2 id="h-log">Who was let in, and shut out</h2>
      <details onToggle={(event) => event.currentTarget.open && look()}>
        <summary>The log, newest first</summary>
        <p class="soft">Nothing in it is ever changed or taken away. A copy that is put back does not shorten it.</p>
        <ul class="plain">
          {(lines.value ?? []).map(({ id, at, text }) => (
            <li key={id} class="row person">
              <span class="grow">{text}</span>
              <span class="soft">
                {dayOf(at)}, {timeOf(at)}
              </span>
            </li>
          ))}
        </ul>
        {lines.value?.length === 0 && <p>Nothing is written in it yet.</p>}
        <Problems problems={doing.problems} />
      </details>
    </section>
  );
}
