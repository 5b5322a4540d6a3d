import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, frame } from '../replica/client.ts';
import type { Role } from '../replica/line.ts';
import { api } from '../shell/api.ts';
import { Problems } from '../shell/problems.tsx';
import { route } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';
import { ROLES, type Session, useDoing } from './people-doing.ts';
import { Join, SignIn } from './people-in.tsx';
import { CalendarLinks, Invitations, ShareLinks } from './people-links.tsx';
import { AccountLog } from './people-log.tsx';
import { Devices, Me } from './people-me.tsx';
import './people.css';

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
  const role = frame.value?.role ?? null;
  const look = (): Promise<void> =>
    doing.run(async () => {
      const session = await api<Session>('GET', '/api/session');
      const rigs =
        session.kind === 'nobody' ? [] : (await api<{ rigs: { rig: string; role: Role }[] }>('GET', '/api/rigs')).rigs;
      known.value = { session, role: rigs.find((one) => one.rig === rig)?.role ?? null };
    });
  useEffect(() => void look(), [rig, role]);
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
        {rig !== null && role === 'owner' && <ShareLinks rig={rig} />}
        {rig !== null && role === 'owner' && <Invitations rig={rig} />}
        {rig !== null && role === 'owner' && <CalendarLinks rig={rig} />}
        {rig !== null && role === 'owner' && <AccountLog rig={rig} />}
      </div>
    </div>
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
