import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import './logbook.css';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf, useAnswer } from '../replica/client.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';

/** One entry as it was written, with its photos; it can be struck, never changed. */
export function Entry({ id }: { readonly id: string }) {
  const { answer, working } = useAnswer('entry', { id });
  if (!answer) {
    return (
      <>
        <Title aria-busy={working}>{working ? 'An entry' : 'There is no such entry'}</Title>
        <a href={linkTo('logbook')}>The whole logbook</a>
      </>
    );
  }
  const { line } = answer;
  return (
    <>
      <Title>{line.head}</Title>
      <p class="soft lead-in">
        {answer.kindTitle}. Of {line.day}; written by {line.by} on {answer.at.slice(0, 16).replace('T', ' ')} UTC.{' '}
        <a href={linkTo('logbook')}>The whole logbook</a>
      </p>
      {line.struck && <p class="first-step">{line.struck}</p>}
      {line.photos.map((hash) => (
        <Photo key={hash} hash={hash} of={line.head} />
      ))}
      <table class="identity">
        <caption class="sr">As it was written</caption>
        <tbody>
          {answer.fields.map(([name, value]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {answer.strikable && <Strike id={id} />}
    </>
  );
}

function Photo({ hash, of }: { readonly hash: string; readonly of: string }) {
  const url = useSignal<string | null>(null);
  const missing = useSignal(false);
  useEffect(() => {
    let made: string | undefined;
    ask('photo', { hash }).then((blob) => {
      if (blob) {
        made = URL.createObjectURL(blob);
        url.value = made;
      } else missing.value = true;
    });
    return () => {
      if (made) URL.revokeObjectURL(made);
    };
  }, [hash]);
  if (missing.value) return <p class="soft">A photo that is not on this device; it comes with the next connection.</p>;
  return url.value ? <img class="photo" src={url.value} alt={`With the entry: ${of}`} /> : null;
}

function Strike({ id }: { readonly id: string }) {
  const open = useSignal(false);
  const reason = useRef<HTMLInputElement>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const strike = async (event: Event): Promise<void> => {
    event.preventDefault();
    try {
      await ask('strike', { ids: [id], reason: reason.current!.value });
      say('Struck. The line stays, and counts no more.');
      open.value = false;
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  if (!open.value) {
    return (
      <p class="strike">
        <button type="button" class="quiet writes" onClick={() => (open.value = true)}>
          Strike it
        </button>
      </p>
    );
  }
  return (
    <form class="strike" onSubmit={strike}>
      <label class="field">
        <span>Why is it struck?</span>
        <input ref={reason} required minLength={3} maxLength={500} />
      </label>
      <Problems problems={problems.value} />
      <div class="row wrap strike">
        <button type="submit">Strike it</button>
        <button type="button" class="quiet" onClick={() => (open.value = false)}>
          Leave it
        </button>
      </div>
    </form>
  );
}
