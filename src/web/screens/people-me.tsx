import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { api } from '../shell/api.ts';
import { LinkMade } from '../shell/link-made.tsx';
import { Problems } from '../shell/problems.tsx';
import { say } from '../shell/said.tsx';
import { dayOf, type Session, textOf, timeOf, useDoing } from './people-doing.ts';

/** Who is signed in here. */
export function Me({ person }: { readonly person: NonNullable<Session['person']> }) {
  const doing = useDoing();
  const out = (path: string): Promise<void> =>
    doing.run(async () => {
      await api('DELETE', path);
      location.reload();
    });
  const change = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const body = { old: textOf(event, 'old'), new: textOf(event, 'new') };
    void doing.run(async () => {
      await api('POST', '/api/password', body);
      form.reset();
      say('The password is changed. Your other devices are signed out.');
    });
  };
  const remove = (event: SubmitEvent): void => {
    event.preventDefault();
    const body = { password: textOf(event, 'password') };
    void doing.run(async () => {
      await api('DELETE', '/api/account', body);
      location.reload();
    });
  };
  return (
    <section aria-labelledby="h-me">
      <h2 id="h-me">You</h2>
      <p>
        {person.shown}, signed in as <b>{person.name}</b>. What is on this device stays on it when you sign out.
      </p>
      <p class="row wrap lead-in">
        <button type="button" class="quiet" onClick={() => out('/api/session')}>
          Sign out here
        </button>
        <button type="button" class="quiet" onClick={() => out('/api/sessions')}>
          Sign out everywhere
        </button>
      </p>
      <details>
        <summary>Change the password</summary>
        <form onSubmit={change}>
          <label class="field">
            <span>The old one</span>
            <input name="old" type="password" required autocomplete="current-password" />
          </label>
          <label class="field">
            <span>The new one</span>
            <input name="new" type="password" required autocomplete="new-password" />
          </label>
          <button type="submit" class="quiet below">
            Change it
          </button>
        </form>
      </details>
      <details>
        <summary>Delete your account</summary>
        <p>
          You are signed out everywhere and off every rig, and your links and invitations end. What you wrote stays in
          the logbooks, under your name. Copies that the server made before still hold your account until they are let
          go.{' '}
          <a href="/api/account" download="account.json">
            Take home what is kept about you
          </a>{' '}
          first.
        </p>
        <form onSubmit={remove}>
          <label class="field">
            <span>Your password</span>
            <input name="password" type="password" required autocomplete="current-password" />
          </label>
          <button type="submit" class="quiet below">
            Delete my account
          </button>
        </form>
      </details>
      <Problems problems={doing.problems} />
    </section>
  );
}

interface Device {
  readonly id: string;
  readonly device: string;
  readonly seen: string;
  readonly here: boolean;
}

/** Where else one is signed in, and one device more. */
export function Devices() {
  const devices = useSignal<readonly Device[]>([]);
  const link = useSignal<{ readonly url: string; readonly expires: string } | null>(null);
  const doing = useDoing();
  const look = async (): Promise<void> => {
    devices.value = (await api<{ sessions: Device[] }>('GET', '/api/sessions')).sessions;
  };
  useEffect(() => void doing.run(look), []);
  const add = (): Promise<void> =>
    doing.run(async () => {
      link.value = await api('POST', '/api/device-link');
    });
  const take = (id: string): Promise<void> =>
    doing.run(async () => {
      await api('DELETE', `/api/sessions/${id}`);
      await look();
    });
  return (
    <section aria-labelledby="h-devices">
      <h2 id="h-devices">Your devices</h2>
      <ul class="plain">
        {devices.value.map(({ id, device, seen, here }) => (
          <li key={id} class="row person">
            <span class="grow">
              {device} <span class="soft">{here ? 'this one' : `last seen ${dayOf(seen)}`}</span>
            </span>
            {!here && (
              <button type="button" class="quiet" aria-label={`Sign ${device} out`} onClick={() => take(id)}>
                Sign out
              </button>
            )}
          </li>
        ))}
      </ul>
      <button type="button" class="quiet below" onClick={add}>
        Sign another device in
      </button>
      {link.value !== null && (
        <LinkMade
          address={link.value.url}
          text={`Open this on the other device. It works once, until ${timeOf(link.value.expires)}.`}
          scan="Or scan this with the other device: it is signed in as you."
        />
      )}
      <Problems problems={doing.problems} />
    </section>
  );
}
