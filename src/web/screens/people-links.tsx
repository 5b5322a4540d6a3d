import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { api } from '../shell/api.ts';
import { LinkMade } from '../shell/link-made.tsx';
import { Problems } from '../shell/problems.tsx';
import { dayOf, emptyField, ROLES, textOf, useDoing } from './people-doing.ts';

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
              {kind === 'invite' ? `to join as ${role}, ` : ''}until {dayOf(expires)}
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

/** Trips, yard days and deadlines in a calendar program, at an address that is its own key. */
export function CalendarLinks({ rig }: { readonly rig: string }) {
  const { links, fresh, problems, make, take } = useLinks(rig, ['calendar']);
  const add = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    void make(
      { kind: 'calendar', label: textOf(event, 'label') },
      ({ token }) => `${location.origin}/feeds/${token}.ics`,
    ).then(() => emptyField(form, 'label'));
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
      <LinkMade
        address={fresh}
        text="Give this address to the calendar. Whoever has it can read the feed; it is not shown again."
      />
      <Problems problems={problems} />
    </section>
  );
}

const SPANS = [
  [1, 'a day'],
  [7, 'a week'],
  [30, 'a month'],
  [365, 'a year'],
] as const;

/** Links by which anybody looks at the rig and writes nothing: a buyer, a mechanic, an insurer. */
export function ShareLinks({ rig }: { readonly rig: string }) {
  const { links, fresh, problems, make, take } = useLinks(rig, ['share']);
  const add = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const body = { kind: 'share', label: textOf(event, 'label'), days: Number(textOf(event, 'days')) };
    void make(body, ({ url }) => url).then(() => emptyField(form, 'label'));
  };
  return (
    <section aria-labelledby="h-share">
      <h2 id="h-share">Show it to somebody</h2>
      <p>
        To a buyer, a mechanic, an insurer: who has the link sees everything on this rig, without an account, and writes
        nothing. Take it back, and it shows nothing any more.
      </p>
      <LinkList links={links} take={take} />
      <form onSubmit={add}>
        <label class="field">
          <span>Whom you show it to</span>
          <input name="label" required maxLength={80} autocomplete="off" placeholder="the buyer" />
        </label>
        <label class="field">
          <span>For how long</span>
          <select name="days">
            {SPANS.map(([days, text]) => (
              <option key={days} value={days} selected={days === 30}>
                {text}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" class="quiet below">
          Make a link to look
        </button>
      </form>
      <LinkMade
        address={fresh}
        text="Give this address to them. Whoever has it sees the rig; it is not shown again."
        scan="Or let them scan this: it opens the rig, to read."
      />
      <Problems problems={problems} />
    </section>
  );
}

/** Invitations with a role. */
export function Invitations({ rig }: { readonly rig: string }) {
  const { links, fresh, problems, make, take } = useLinks(rig, ['invite']);
  const add = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const body = { kind: 'invite', label: textOf(event, 'label'), role: textOf(event, 'role') };
    void make(body, ({ url }) => url).then(() => emptyField(form, 'label'));
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
      <LinkMade address={fresh} text="Send them this address. It works once, within three days." />
      <Problems problems={problems} />
    </section>
  );
}
