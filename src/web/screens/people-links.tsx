import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { api } from '../shell/api.ts';
import { Problems } from '../shell/problems.tsx';
import { ROLES, textOf, useDoing } from './people-doing.ts';

interface Link {
  readonly id: string;
  readonly kind: 'share' | 'invite' | 'calendar';
  readonly role: string;
  readonly label: string;
  readonly expires: string;
}
interface MadeLink extends Link {
  readonly token: string;
  readonly url: string;
}

/** Links of some kinds that still work, the newest with its address: it is told only once. */
function useLinks(rig: string, kinds: readonly Link['kind'][]) {
  const links = useSignal<readonly Link[]>([]);
  const fresh = useSignal('');
  const doing = useDoing();
  const path = `/api/rigs/${rig}/links`;
  const look = async (): Promise<void> => {
    const all = (await api<{ links: Link[] }>('GET', path)).links;
    links.value = all.filter(({ kind }) => kinds.includes(kind));
  };
  useEffect(() => void doing.run(look), [rig]);
  return {
    links: links.value,
    fresh: fresh.value,
    problems: doing.problems,
    make: (body: unknown, address: (made: MadeLink) => string): Promise<void> =>
      doing.run(async () => {
        fresh.value = address(await api<MadeLink>('POST', path, body));
        await look();
      }),
    take: (id: string): Promise<void> =>
      doing.run(async () => {
        await api('DELETE', `${path}/${id}`);
        fresh.value = '';
        await look();
      }),
  };
}

function LinkList({ links, take }: { readonly links: readonly Link[]; take(id: string): Promise<void> }) {
  return (
    <ul class="plain">
      {links.map(({ id, label, kind, role, expires }) => (
        <li key={id} class="row person">
          <span class="grow">
            {label}{' '}
            <span class="soft">
              {kind === 'invite' ? `to join as ${role}, ` : ''}until {expires.slice(0, 10)}
            </span>
          </span>
          <button type="button" class="quiet" aria-label={`Take back ${label}`} onClick={() => take(id)}>
            Take back
          </button>
        </li>
      ))}
    </ul>
  );
}

function Fresh({ address, text }: { readonly address: string; readonly text: string }) {
  if (address === '') return null;
  return (
    <div role="status">
      <label class="field">
        <span>{text}</span>
        <input readOnly value={address} onFocus={(event) => event.currentTarget.select()} />
      </label>
    </div>
  );
}

/** Trips, yard days and deadlines in a calendar program, at an address that is its own key. */
export function CalendarLinks({ rig }: { readonly rig: string }) {
  const { links, fresh, problems, make, take } = useLinks(rig, ['calendar']);
  const add = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    void make(
      { kind: 'calendar', label: textOf(event, 'label') },
      ({ token }) => `${location.origin}/feeds/${token}.ics`,
    ).then(() => form.reset());
  };
  return (
    <section aria-labelledby="h-calendar">
      <h2 id="h-calendar">In your calendar</h2>
      <p>
        Trips, yard days and the days by which safety work runs out, as a feed.{' '}
        <a href={`/api/rigs/${rig}/calendar.ics`}>The same as a file</a>.
      </p>
      <LinkList links={links} take={take} />
      <form onSubmit={add}>
        <label class="field">
          <span>Which calendar it is for</span>
          <input name="label" required maxLength={80} autocomplete="off" placeholder="kitchen calendar" />
        </label>
        <button type="submit" class="quiet below">
          Make a calendar address
        </button>
      </form>
      <Fresh
        address={fresh}
        text="Give this address to the calendar. Whoever has it can read the feed; it is not shown again."
      />
      <Problems problems={problems} />
    </section>
  );
}

/** Invitations with a role. */
export function SharedLinks({ rig }: { readonly rig: string }) {
  const { links, fresh, problems, make, take } = useLinks(rig, ['invite']);
  const add = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const body = { kind: 'invite', label: textOf(event, 'label'), role: textOf(event, 'role') };
    void make(body, ({ url }) => url).then(() => form.reset());
  };
  return (
    <section aria-labelledby="h-invite">
      <h2 id="h-invite">Invite somebody</h2>
      <LinkList links={links} take={take} />
      <form onSubmit={add}>
        <label class="field">
          <span>Who it is for</span>
          <input name="label" required maxLength={80} autocomplete="off" />
        </label>
        <label class="field">
          <span>As</span>
          <select name="role">
            {ROLES.map(([role, text]) => (
              <option key={role} value={role} selected={role === 'helper'}>
                {text}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" class="quiet below">
          Make an invitation
        </button>
      </form>
      <Fresh address={fresh} text="Send them this address. It works once, within three days." />
      <Problems problems={problems} />
    </section>
  );
}
