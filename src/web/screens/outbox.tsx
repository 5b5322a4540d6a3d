import { useSignal } from '@preact/signals';
import { ask, frame, useAnswer } from '../replica/client.ts';
import type { Frame } from '../replica/frame.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { saveFile } from '../shell/save-file.ts';
import { Title } from '../shell/title.tsx';
import './outbox.css';

/** What waits on this device to be sent: why it waits, and what to do about it. */
export function Outbox() {
  const now = frame.value!;
  const { answer, problems } = useAnswer('outbox', { waiting: now.waiting, refused: now.refused.length });
  const lines = answer?.lines ?? [];
  return (
    <div class="outbox-page">
      <Title aria-busy={answer === null && problems.length === 0}>
        {now.waiting === 0 ? 'Nothing waits to be sent' : `${now.waiting} to send`}
      </Title>
      <Why now={now} />
      <Problems problems={[...problems, ...now.troubles]} />
      <ul class="plain outbox-lines">
        {lines.map(({ line, problems: reasons }) => (
          <li key={line.id}>
            <a href={linkTo('logbook', line.id)}>{line.day}</a>, {line.by}: {line.head}
            {reasons.length > 0 && (
              <>
                <p class="wrong">The server does not take it.</p>
                <Problems problems={reasons} />
                <p>Open it, strike it with this as the reason, and write it down again as it should be.</p>
              </>
            )}
          </li>
        ))}
      </ul>
      {answer !== null && answer.more > 0 && <p class="soft">And {answer.more} more.</p>}
      {now.waiting > 0 && <Keep now={now} />}
    </div>
  );
}

function Why({ now }: { readonly now: Frame }) {
  const busy = useSignal(false);
  const again = async (): Promise<void> => {
    busy.value = true;
    await ask('sync', {}).catch(() => undefined);
    busy.value = false;
  };
  const tryNow = (
    <button type="button" class="quiet" disabled={busy.value} onClick={again}>
      {busy.value ? 'Asking the server …' : 'Try now'}
    </button>
  );
  const [text, action] = why(now);
  return (
    <>
      <p class="lead-in">{text}</p>
      <p class="row wrap lead-in">
        {action === 'try' && tryNow}
        {action === 'sign-in' && (
          <a class="button" href={linkTo('people')}>
            Sign in
          </a>
        )}
        {action === 'people' && (
          <a class="button quiet" href={linkTo('people')}>
            People and sharing
          </a>
        )}
      </p>
    </>
  );
}

/** The time of day on this device, to the second: what waits for it may be looked at meanwhile. */
const clock = (instant: number): string => new Date(instant).toLocaleTimeString('en-GB');

/** Why something waits here, and what can be done. */
function why(now: Frame): readonly [text: string, action: 'try' | 'sign-in' | 'people' | 'none'] {
  if (now.role === 'reader' && now.waiting > 0)
    return [
      'You are a reader of this rig now, and the server takes nothing from readers. What you wrote before is kept on this device. Ask an owner to make you a helper: then it goes by itself. Or give them the file below.',
      'people',
    ];
  switch (now.standing) {
    case 'signed-out':
      return [
        'You are not signed in here. What is written on this device is kept, and goes when you sign in.',
        'sign-in',
      ];
    case 'unreached':
      return [
        'The server cannot be reached: no network, or it is switched off. What is written is kept here, and goes by itself.',
        'try',
      ];
    case 'not-there':
      return [
        'The server does not know this rig, or does not show it to you. Put it there, or ask its owner.',
        'people',
      ];
    case 'held-up': {
      const when = now.again === null ? 'now' : `at ${clock(now.again)}`;
      return [
        `The server has had more requests than it takes, and asks for a pause. What is written is kept here, and goes by itself ${when}.`,
        'none',
      ];
    }
    case 'troubled':
      return now.again === null
        ? ['The server answered, and could not do it. It is tried again by itself.', 'try']
        : [`The server answered, and could not do it. It is tried again by itself at ${clock(now.again)}.`, 'none'];
    case 'alone':
      return ['This rig stays on this device: nothing of it is sent.', 'none'];
    default:
      if (now.refused.length > 0) return ['The server looked at each and did not take these:', 'try'];
      return now.waiting > 0 ? ['On their way.', 'try'] : ['Everything written here is at the server.', 'none'];
  }
}

/** A way out that needs no server. */
function Keep({ now }: { readonly now: Frame }) {
  const save = async (): Promise<void> => {
    saveFile(`${now.rig}-waiting-${now.today}.jsonl`, 'application/jsonl', await ask('exportWaiting', {}));
    say('Saved as a file: one entry a line, as any copy of Rigworthy takes it in.');
  };
  return (
    <p class="lead-in">
      <button type="button" class="quiet" onClick={save}>
        Save what waits as a file
      </button>
    </p>
  );
}
