import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, frame, problemsOf, useAnswer } from '../replica/client.ts';
import type { EntryLine } from '../replica/views/entry-text.ts';
import { NotYet, Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';

/** What was set aside: entries that cannot be true, and records that this version cannot read. Kept, and counting for nothing. */
export function Aside() {
  const { aside = 0, unread = 0 } = frame.value ?? {};
  const { answer, problems } = useAnswer('aside', { aside, unread });
  if (!answer) return <NotYet problems={problems} doing="Reading the logbook …" />;
  const { lines, unread: raws } = answer;
  return (
    <>
      <Title>Set aside</Title>
      <p class="lead-in">
        <a href={linkTo('logbook')}>The logbook</a> keeps these, and they count for nothing: no answer rests on them.
        Nothing is clear while one waits for your decision or cannot be read.
      </p>
      {lines.length === 0 && raws.length === 0 && <p>Nothing is set aside.</p>}
      {lines.length > 0 && (
        <section aria-labelledby="h-aside">
          <h2 id="h-aside">Cannot be true</h2>
          <ul class="plain">
            {lines.map((line) => (
              <Doubtful key={line.id} line={line} />
            ))}
          </ul>
        </section>
      )}
      {raws.length > 0 && (
        <section aria-labelledby="h-unread">
          <h2 id="h-unread">Cannot be read here</h2>
          <p>They stay as they came, and go along when you export. A newer version of the program may read them.</p>
          <ul class="plain">
            {raws.map(({ id, why, raw }) => (
              <li key={raw} class="lead-in">
                <b>{id ?? 'no id'}</b> {why}
                <details>
                  <summary>As it came</summary>
                  <pre class="raw">{raw}</pre>
                </details>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Doubtful({ line }: { readonly line: EntryLine }) {
  const problems = useSignal<readonly Problem[]>([]);
  const { id, head, day, by, aside } = line;
  const decide = async (decision: 'release' | 'reject' | null, told: string): Promise<void> => {
    try {
      problems.value = [];
      await ask('decide', { id, decision });
      say(told);
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  return (
    <li class="lead-in">
      <a href={linkTo('logbook', id)}>{head}</a>{' '}
      <span class="soft">
        {day}, {by}
      </span>
      <p>{aside?.why}</p>
      <div class="row wrap writes">
        {aside?.releasable && (
          <button
            type="button"
            class="quiet"
            aria-label={`Let it count: ${head}`}
            onClick={() => decide('release', 'It counts from now on.')}
          >
            Let it count
          </button>
        )}
        {aside?.rejected ? (
          <button
            type="button"
            class="quiet"
            aria-label={`Undecided again: ${head}`}
            onClick={() => decide(null, 'It waits for a decision again.')}
          >
            Rejected. Undecided again
          </button>
        ) : (
          <button
            type="button"
            class="quiet"
            aria-label={`Reject: ${head}`}
            onClick={() => decide('reject', 'It is rejected, and stays in the logbook.')}
          >
            Reject
          </button>
        )}
      </div>
      <Problems problems={problems.value} />
    </li>
  );
}
