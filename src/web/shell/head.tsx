import { ask } from '../replica/client.ts';
import type { Frame } from '../replica/frame.ts';
import { linkTo, route, SCREENS } from './route.ts';
import { chooseTheme, THEMES, theme } from './theme.ts';

/** Who the rig is, which day it is, what waits to be sent; the rest behind one word. */
export function Header({ now }: { readonly now: Frame }) {
  const names = [now.trailer, now.tow].filter((name) => name !== '').join(' & ') || now.rig;
  return (
    <header class="head">
      <b class="names">{names}</b>
      <span class="day">
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
            <li>
              <a href={linkTo('settings')}>Your own figures, data in and out</a>
            </li>
            <li>
              <a href={linkTo('people')}>People, sharing, calendar</a>
            </li>
            <li>
              <a href={linkTo('walk')}>Walk round the rig</a>
            </li>
            <li>
              <a href={linkTo('sheet')}>Sheets to print or carry</a>
            </li>
            <li>
              <a href={linkTo('reckon')}>Reckon something</a>
            </li>
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

function serverText(now: Frame): string {
  const entries = `${now.entries.toLocaleString('en-US')} entries on this device.`;
  if (now.reached === null) return entries;
  if (!now.reached) return `${entries} No server can be reached; everything here works without.`;
  return `${entries} The server has been asked and is in step.`;
}

/** What waits to be sent, and what the server refused. Nothing is shown when nothing waits. */
function Outbox({ now }: { readonly now: Frame }) {
  if (now.refused.length > 0) return <span class="outbox wrong">{now.refused.length} not taken</span>;
  if (now.waiting > 0) return <span class="outbox">{now.waiting} to send</span>;
  return null;
}

export function Nav() {
  const { screen } = route.value;
  return (
    <nav class="nav" aria-label="Screens">
      {SCREENS.map(({ id, name, short }) => (
        <a key={id} href={linkTo(id)} aria-current={screen === id ? 'page' : undefined} aria-label={name}>
          <span class="short">{short}</span>
          <span class="full">{name}</span>
        </a>
      ))}
    </nav>
  );
}
