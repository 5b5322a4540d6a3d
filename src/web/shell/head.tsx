import { useEffect, useRef } from 'preact/hooks';
import { ask, frame } from '../replica/client.ts';
import type { Frame } from '../replica/frame.ts';
import type { Role, Standing } from '../replica/line.ts';
import { leaveShared } from '../replica/share-link.ts';
import { linkTo, route, SCREENS } from './route.ts';
import { say } from './said.tsx';
import { chooseTheme, THEMES, theme } from './theme.ts';

/** Who the rig is, which day it is, what waits to be sent; the rest behind one word. */
export function Header({ now }: { readonly now: Frame }) {
  const names = [now.trailer, now.tow].filter((name) => name !== '').join(' & ') || now.rig;
  return (
    <header class="head">
      <b class="names">{names}</b>
      {now.underWay && <UnderWay trip={now.underWay} />}
      <span class={now.underWay ? 'day wide-only' : 'day'}>
        <span class="wide-only">{now.todayText}</span>
        <span class="narrow-only">{now.todayShort}</span>
      </span>
      <Outbox now={now} />
      <details class="more" key={JSON.stringify(route.value)}>
        <summary>More</summary>
        <div class="more-in">
          <fieldset class="themes">
            <legend>Page</legend>
            {THEMES.map(({ id, name }) => (
              <label key={id}>
                <input type="radio" name="theme" checked={theme.value === id} onChange={() => chooseTheme(id)} />
                <span>{name}</span>
              </label>
            ))}
          </fieldset>
          <ul class="plain more-links">
            {(now.shown ? LINKS_SHOWN : LINKS).map(([screen, text]) => (
              <li key={screen}>
                <a href={linkTo(screen)}>{text}</a>
              </li>
            ))}
          </ul>
          <p class="soft">{serverText(now)}</p>
          {now.rigs.length > 1 && (
            <label class="field">
              <span>Rig</span>
              <select onChange={(event) => ask('openRig', { rig: event.currentTarget.value })}>
                {now.rigs.map((rig) => (
                  <option key={rig} value={rig} selected={rig === now.rig}>
                    {rig}
                  </option>
                ))}
              </select>
            </label>
          )}
        </div>
      </details>
    </header>
  );
}

/** On every page while a trip is under way: whatever is asked then, is asked from the road. */
function UnderWay({ trip }: { readonly trip: NonNullable<Frame['underWay']> }) {
  return (
    <a class="way" href={linkTo('go', trip.trip)} title={trip.name}>
      Day {trip.day} of {trip.of}
      <span class="sr">, {trip.name}</span>
    </a>
  );
}

const LINKS = [
  ['settings', 'Your own figures, data in and out'],
  ['people', 'People, sharing, calendar'],
  ['walk', 'Walk round the rig'],
  ['sheet', 'Sheets to print or carry'],
  ['reckon', 'Reckon something'],
] as const;
/** For whoever only looks: what is not about the rig as it stands is left out. */
const LINKS_SHOWN = LINKS.filter(([screen]) => screen === 'sheet' || screen === 'reckon');

const SERVER: Readonly<Record<Standing, string>> = {
  'not-asked': '',
  alone: 'This rig stays on this device.',
  'in-step': 'The server has been asked and is in step.',
  unreached: 'No server can be reached; everything here works without.',
  'signed-out': 'You are not signed in; everything here works without.',
  'not-there':
    'The server does not know this rig, or does not show it to you. It is not asked any more until you look again.',
  'held-up': 'The server has had too many requests; it is asked again by itself.',
  troubled: 'The server answered, and could not do it.',
};

const serverText = (now: Frame): string =>
  [`${now.entries.toLocaleString('en-US')} entries on this device.`, unreadText(now), SERVER[now.standing]]
    .filter((text) => text !== '')
    .join(' ');

/** What of the logbook is on this device and counts for nothing here. Empty where there is nothing of the kind. */
export function unreadText({ unread, newer }: Pick<Frame, 'unread' | 'newer'>): string {
  const broken = unread - newer;
  return [
    newer === 0 ? '' : `${newer === 1 ? '1 entry needs' : `${newer} entries need`} a newer version: reload the page.`,
    broken === 0 ? '' : `${broken === 1 ? '1 entry' : `${broken} entries`} cannot be read.`,
  ]
    .filter((text) => text !== '')
    .join(' ');
}

/** In a word why what is written here has not gone: the page behind it says what to do. */
const WAITS: Readonly<Partial<Record<Standing, string>>> = {
  unreached: 'no server',
  'signed-out': 'signed out',
  'not-there': 'not at the server',
  'held-up': 'server busy',
  troubled: 'server in trouble',
};

/** What waits to be sent and why, and what the server refused. Nothing is shown when nothing waits. */
function Outbox({ now }: { readonly now: Frame }) {
  if (now.waiting === 0) return null;
  const refused = now.refused.length;
  const reason = now.role === 'reader' ? 'reader' : WAITS[now.standing];
  return (
    <a class={refused > 0 ? 'outbox wrong' : 'outbox'} href={linkTo('outbox')}>
      {refused > 0 ? `${refused} not taken` : `${now.waiting} to send${reason === undefined ? '' : `: ${reason}`}`}
    </a>
  );
}

const ROLE_TOLD: Readonly<Record<Role, string>> = {
  reader: 'An owner made you a reader of this rig: you see everything, and write nothing on it.',
  helper: 'An owner made you a helper on this rig: you may write on it.',
  owner: 'You are an owner of this rig now: you write on it, and decide who else may.',
};

/** Why buttons come and go on an open page: an owner has made us something else on this rig, or taken us off it. */
function useRoleTold({ rig, role, standing }: Frame): void {
  const before = useRef({ rig, role });
  useEffect(() => {
    const was = before.current;
    before.current = { rig, role };
    if (was.rig !== rig || was.role === null || was.role === role) return;
    if (role !== null) say(ROLE_TOLD[role]);
    else if (standing === 'not-there')
      say('You were taken off this rig. What is on this device stays here; nothing of it is sent.');
  }, [rig, role, standing]);
}

/** For whoever only reads: whose rig this is, and that nothing can be written. */
export function ReadsOnly({ now }: { readonly now: Frame }) {
  useRoleTold(now);
  if (now.mayWrite) return null;
  if (now.shown === null) return <p class="reads-only">You read this rig. Helpers and owners write on it.</p>;
  const { by, since, until } = now.shown;
  return (
    <div class="reads-only">
      <p>
        {by} shows you this rig, read-only, since {since} and until {until}. Nothing of it is put down on this device.
        {now.standing === 'unreached' ? ' No network now: it stands as last seen.' : ''}
      </p>
      <button type="button" class="quiet" onClick={leaveShared}>
        Close it
      </button>
    </div>
  );
}

const GO_ON = { id: 'go', name: 'Can we go on?', short: 'On?' } as const;

export function Nav() {
  const { screen } = route.value;
  return (
    <nav class="nav" aria-label="Screens">
      {SCREENS.map((one) => (one.id === 'go' && frame.value?.underWay ? GO_ON : one)).map(({ id, name, short }) => (
        <a key={id} href={linkTo(id)} aria-current={screen === id ? 'page' : undefined} aria-label={name}>
          <span class="short">{short}</span>
          <span class="full">{name}</span>
        </a>
      ))}
    </nav>
  );
}
