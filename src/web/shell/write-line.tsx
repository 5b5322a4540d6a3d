import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { ask, problemsOf } from '../replica/client.ts';
import type { Proposal } from '../replica/protocol.ts';
import { openForm } from './form.ts';
import { Problems } from './problems.tsx';
import { route } from './route.ts';
import { say } from './said.tsx';

/** Where all the page is needed: by a thumb, or to be read at arm's length. */
const WITHOUT: ReadonlySet<string> = new Set(['round', 'roadside', 'walk']);

/** One line, nearly everywhere: what was read or done, in words; said back before it is written. */
export function WriteLine() {
  return WITHOUT.has(route.value.screen) ? null : <Line />;
}

function Line() {
  const text = useSignal('');
  const proposal = useSignal<Proposal | null>(null);
  const field = useRef<HTMLInputElement>(null);
  const confirm = useRef<HTMLButtonElement>(null);

  const understand = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (text.value.trim() === '') {
      openForm({ choose: true });
      return;
    }
    proposal.value = await ask('understand', { text: text.value }).catch((error) => ({
      drafts: [],
      said: '',
      problems: problemsOf(error),
    }));
    if (proposal.value.drafts.length > 0) requestAnimationFrame(() => confirm.current?.focus());
  };
  const write = async (): Promise<void> => {
    const drafts = proposal.value?.drafts ?? [];
    try {
      const { ids, said } = await ask('write', { drafts });
      say(`Written: ${said}`, ids);
      text.value = '';
      proposal.value = null;
    } catch (error) {
      proposal.value = { drafts: [], said: '', problems: problemsOf(error) };
    }
    field.current?.focus();
  };
  const back = (): void => {
    proposal.value = null;
    field.current?.focus();
  };
  const now = proposal.value;
  return (
    <section class="write" aria-label="Write something down">
      {now && (
        <div class="understood">
          {now.drafts.length > 0 && <p>{now.said}</p>}
          <Problems problems={now.problems} />
          <div class="row">
            {now.drafts.length > 0 && (
              <button type="button" ref={confirm} onClick={write}>
                Write it down
              </button>
            )}
            <button type="button" class="quiet" onClick={back}>
              Change it
            </button>
          </div>
        </div>
      )}
      <form class="row" onSubmit={understand}>
        <input
          ref={field}
          aria-label="What was read or done"
          placeholder="spare 65 psi, 18 C"
          autocomplete="off"
          enterkeyhint="done"
          value={text.value}
          onInput={(event) => {
            text.value = event.currentTarget.value;
            proposal.value = null;
          }}
        />
        <button type="submit" disabled={now !== null && now.drafts.length > 0}>
          Write
        </button>
      </form>
    </section>
  );
}
