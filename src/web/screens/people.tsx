import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, frame } from '../replica/client.ts';
import { api } from '../shell/api.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';
import { ROLES, type Role, textOf, useDoing } from './people-doing.ts';
import { CalendarLinks, SharedLinks } from './people-links.tsx';
import './people.css';

interface Session {
  readonly mode: 'local' | 'accounts';
  readonly kind: 'local' | 'account' | 'link' | 'nobody';
  readonly person: { readonly account: string; readonly name: string; readonly shown: string } | null;
}

interface Known {
  readonly session: Session;
  /** What one is on the rig that is open; null where the server does not know the rig. */
  readonly role: Role | null;
}

/** Who may see and write this rig, from which devices, and by which links. */
export function People() {
  const known = useSignal<Known | null>(null);
  const doing = useDoing();
  const rig = frame.value?.rig ?? null;
  const look = (): Promise<void> =>
    doing.run(async () => {
      const session = await api<Session>('GET', '/api/session');
      const rigs =
        session.kind === 'nobody' ? [] : (await api<{ rigs: { rig: string; role: Role }[] }>('GET', '/api/rigs')).rigs;
      known.value = { session, role: rigs.find((one) => one.rig === rig)?.role ?? null };
    });
  useEffect(() => void look(), [rig]);
  const now = known.value;
  return (
    <div class="people">
      <Title aria-busy={now === null && doing.problems.length === 0}>People and sharing</Title>
      <Problems problems={doing.problems} />
      {doing.problems.length > 0 && (
        <p class="lead-in">Everything else works without a server. Only sharing needs one.</p>
      )}
      {now && <Here known={now} rig={rig} look={look} />}
    </div>
  );
}

function Here({ known, rig, look }: { readonly known: Known; readonly rig: string | null; look(): Promise<void> }) {
  const { session, role } = known;
  const [key, token] = route.value.rest;
  if (session.mode === 'local') {
    return (
      <>
        <p class="lead-in">
          This is your own machine: it answers nobody else, so whoever sits at it is the owner. To let others in, or
          your phone, start the server with accounts; the commands’ reference says how.
        </p>
        {rig !== null && <CalendarLinks rig={rig} />}
      </>
    );
  }
  if (key === 'join' && token !== undefined) return <Join token={token} signedIn={session.person !== null} />;
  if (session.person === null) return <SignIn deviceLink={key === 'device' ? token : undefined} />;
  return (
    <div class="people-columns">
      <div>
        <Me person={session.person} />
        <Devices />
      </div>
      <div>
        {rig !== null && role === null && <Claim rig={rig} look={look} />}
        {rig !== null && role !== null && <OnRig rig={rig} role={role} me={session.person.account} />}
        {rig !== null && role === 'owner' && <SharedLinks rig={rig} />}
        {rig !== null && role === 'owner' && <CalendarLinks rig={rig} />}
      </div>
    </div>
  );
}

/** Whoever comes in: everything is asked for anew, by the name they are known by. */
async function arrived(shown: string): Promise<void> {
  await ask('signAs', { name: shown });
  location.hash = linkTo('go');
  location.reload();
}

function DeviceField() {
  return (
    <label class="field">
      <span>What you call this device</span>
      <input name="device" required maxLength={100} autocomplete="off" placeholder="phone in the cab" />
    </label>
  );
}

function SignIn({ deviceLink }: { readonly deviceLink: string | undefined }) {
  const doing = useDoing();
  const enter = (event: SubmitEvent): void => {
    event.preventDefault();
    const device = textOf(event, 'device');
    const by =
      deviceLink === undefined ? { name: textOf(event, 'name'), password: textOf(event, 'password') } : { deviceLink };
    void doing.run(async () => {
      const { person } = await api<Session>('POST', '/api/session', { ...by, device });
      await arrived(person!.shown);
    });
  };
  return (
    <form onSubmit={enter} class="narrow">
      <h2>{deviceLink === undefined ? 'Sign in' : 'Sign this device in'}</h2>
      {deviceLink === undefined && (
        <>
          <label class="field">
            <span>Name</span>
            <input name="name" required autocomplete="username" autocapitalize="none" />
          </label>
          <label class="field">
            <span>Password</span>
            <input name="password" type="password" required autocomplete="current-password" />
          </label>
        </>
      )}
      <DeviceField />
      <Problems problems={doing.problems} />
      <div class="row end">
        <button type="submit">Sign in</button>
      </div>
    </form>
  );
}

function Join({ token, signedIn }: { readonly token: string; readonly signedIn: boolean }) {
  const doing = useDoing();
  const join = (event: SubmitEvent): void => {
    event.preventDefault();
    const [name, shown, password] = ['name', 'shown', 'password'].map((field) => textOf(event, field));
    void doing.run(async () => {
      await api('POST', '/api/join', signedIn ? { token } : { token, account: { name, shown, password } });
      const { person } = await api<Session>('GET', '/api/session');
      await arrived(person!.shown);
    });
  };
  return (
    <form onSubmit={join} class="narrow">
      <h2>You are invited to a rig</h2>
      {!signedIn && (
        <>
          <p>Have you an account here? Then sign in first, and open the invitation again.</p>
          <label class="field">
            <span>Your name, as others see it</span>
            <input name="shown" required maxLength={60} autocomplete="name" />
          </label>
          <label class="field">
            <span>Name to sign in with</span>
            <input name="name" required maxLength={60} autocomplete="username" autocapitalize="none" />
          </label>
          <label class="field">
            <span>Password</span>
            <input name="password" type="password" required autocomplete="new-password" />
          </label>
        </>
      )}
      <Problems problems={doing.problems} />
      <div class="row end">
        <a class="button quiet" href={linkTo('people')}>
          Sign in
        </a>
        <button type="submit">Join</button>
      </div>
    </form>
  );
}

function Me({ person }: { readonly person: NonNullable<Session['person']> }) {
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

function Devices() {
  const devices = useSignal<readonly Device[]>([]);
  const link = useSignal('');
  const doing = useDoing();
  const look = async (): Promise<void> => {
    devices.value = (await api<{ sessions: Device[] }>('GET', '/api/sessions')).sessions;
  };
  useEffect(() => void doing.run(look), []);
  const add = (): Promise<void> =>
    doing.run(async () => {
      link.value = (await api<{ url: string }>('POST', '/api/device-link')).url;
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
              {device} <span class="soft">{here ? 'this one' : `last seen ${seen.slice(0, 10)}`}</span>
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
      {link.value !== '' && (
        <label class="field">
          <span>Open this on the other device within ten minutes. It works once.</span>
          <input readOnly value={link.value} onFocus={(event) => event.currentTarget.select()} />
        </label>
      )}
      <Problems problems={doing.problems} />
    </section>
  );
}

function Claim({ rig, look }: { readonly rig: string; look(): Promise<void> }) {
  const doing = useDoing();
  const claim = (): Promise<void> =>
    doing.run(async () => {
      await api('POST', '/api/rigs', { rig });
      await ask('sync', {});
      await look();
    });
  return (
    <section aria-labelledby="h-claim">
      <h2 id="h-claim">Only on this device</h2>
      <p>The server does not know this rig. Put it there, and you are its owner: your other devices will find it.</p>
      <button type="button" class="below" onClick={claim}>
        Put {rig} on the server
      </button>
      <Problems problems={doing.problems} />
    </section>
  );
}

interface Person {
  readonly account: string;
  readonly name: string;
  readonly shown: string;
  readonly role: Role;
}

function OnRig({ rig, role, me }: { readonly rig: string; readonly role: Role; readonly me: string }) {
  const people = useSignal<readonly Person[]>([]);
  const doing = useDoing();
  const path = `/api/rigs/${rig}/people`;
  const look = async (): Promise<void> => {
    people.value = (await api<{ people: Person[] }>('GET', path)).people;
  };
  useEffect(() => {
    if (role !== 'reader') void doing.run(look);
  }, [rig]);
  const change = (method: string, account: string, body?: unknown): Promise<void> =>
    doing.run(async () => {
      await api(method, `${path}/${account}`, body);
      await look();
    });
  return (
    <section aria-labelledby="h-on-rig">
      <h2 id="h-on-rig">On this rig</h2>
      {role === 'reader' && <p>You see this rig as a reader. What you write here is not taken by the server.</p>}
      <ul class="plain">
        {people.value.map((one) => (
          <li key={one.account} class="row person">
            <span class="grow">
              {one.shown} {one.account === me && <span class="soft">you</span>}
            </span>
            {role === 'owner' ? (
              <select
                aria-label={`Role of ${one.shown}`}
                value={one.role}
                onChange={(event) => change('PUT', one.account, { role: event.currentTarget.value })}
              >
                {ROLES.map(([id]) => (
                  <option key={id} value={id} selected={id === one.role}>
                    {id}
                  </option>
                ))}
              </select>
            ) : (
              <span class="soft">{one.role}</span>
            )}
            {(role === 'owner' || one.account === me) && (
              <button
                type="button"
                class="quiet"
                aria-label={`Take ${one.shown} off this rig`}
                onClick={() => change('DELETE', one.account)}
              >
                Take off
              </button>
            )}
          </li>
        ))}
      </ul>
      <Problems problems={doing.problems} />
    </section>
  );
}
