import { signal } from '@preact/signals';
import { ask, problemsOf } from '../replica/client.ts';

interface Said {
  readonly text: string;
  /** Entries that can be taken back. */
  readonly ids: readonly string[];
}

/** What was written last, with the way back. */
export const said = signal<Said | null>(null);

export function say(text: string, ids: readonly string[] = []): void {
  said.value = { text, ids };
}

async function undo(ids: readonly string[]): Promise<void> {
  try {
    await ask('strike', { ids, reason: 'Taken back right after writing' });
    say('Struck. The logbook keeps both lines.');
  } catch (error) {
    say(problemsOf(error)[0]!.what);
  }
}

/** More letters than a phone shows in three lines: to be scrolled, by keyboard too. */
const LONG = 60;

export function SaidBar() {
  const now = said.value;
  return (
    <div class="said" role="status" aria-live="polite">
      {now && (
        <div class="said-in">
          <span tabIndex={now.text.length > LONG ? 0 : undefined}>{now.text}</span>
          {now.ids.length > 0 && (
            <button type="button" class="quiet" onClick={() => undo(now.ids)}>
              Undo
            </button>
          )}
          <button type="button" class="quiet" onClick={() => (said.value = null)}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}
