// Hears of a page gone to before it is drawn.
import './visits.ts';
import { signal } from '@preact/signals';

export const SCREENS = [
  { id: 'go', name: 'Can we go?', short: 'Go?' },
  { id: 'season', name: 'The season', short: 'Season' },
  { id: 'rig', name: 'The rig', short: 'Rig' },
  { id: 'scale', name: 'On the scale', short: 'Scale' },
  { id: 'logbook', name: 'Logbook', short: 'Log' },
  { id: 'roadside', name: 'Roadside', short: 'Roadside' },
] as const;

/** Where we are: `#/rig/spare` is the screen `rig` with `spare` after it. */
export interface Route {
  readonly screen: string;
  readonly rest: readonly string[];
}

function read(): Route {
  // Links that the server makes: `#join=…`, `#device=…`.
  const key = /^#(join|device)=(.+)$/.exec(location.hash);
  if (key) return { screen: 'people', rest: [key[1]!, key[2]!] };
  const [screen = '', ...rest] = location.hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  return { screen: screen === '' ? 'go' : screen, rest };
}

export const route = signal<Route>(read());

addEventListener('hashchange', () => {
  route.value = read();
});

export const linkTo = (screen: string, ...rest: readonly string[]): string =>
  `#/${[screen, ...rest].map(encodeURIComponent).join('/')}`;
