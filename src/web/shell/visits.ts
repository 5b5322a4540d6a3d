/**
 * Where each page of this visit was left: how far down, and by which link. A page that is come back to is shown there again, whether by
 * the browser's own buttons, by a key or after a reload; a page that is gone to anew begins at its top.
 */
interface Left {
  readonly y: number;
  readonly link: string | null;
}

/** Pages remembered; the oldest are forgotten. */
const REMEMBERED = 100;
/** Until a page come back to is long enough again, in milliseconds. */
const PATIENCE = 3000;
const KEY = 'left';

function kept(): Map<number, Left> {
  try {
    return new Map(JSON.parse(sessionStorage.getItem(KEY) ?? '[]') as [number, Left][]);
  } catch {
    return new Map();
  }
}

const visitOf = (state: unknown): number | undefined => (state as { visit?: number } | null)?.visit;

const left = kept();
let here = arrive();
let y = scrollY;
let link: string | null = null;
/** True from going to another page until a key or a finger is used there. */
let untouched = false;
let returned = left.has(here);

/** The number of the page we are on: its own where we were here before, else a new one. */
function arrive(): number {
  const before = visitOf(history.state);
  if (before !== undefined) return before;
  const fresh = Math.max(0, ...left.keys()) + 1;
  history.replaceState({ ...history.state, visit: fresh }, '');
  return fresh;
}

function leave(): void {
  left.delete(here);
  left.set(here, { y, link });
  for (const oldest of [...left.keys()].slice(0, Math.max(0, left.size - REMEMBERED))) left.delete(oldest);
}

/** Nothing was touched yet on the page gone to: its heading may take the focus. */
export const arriving = (): boolean => untouched;
/** The page was come back to. */
export const comeBackTo = (): boolean => returned;

/** Once the page is as long as it was: there; and once it is drawn, on the link it was left by. Whoever touches the page is left alone. */
function goBackTo(was: Left): void {
  const begun = performance.now();
  const at = here;
  let there = false;
  const look = (): void => {
    if (!untouched || here !== at) return;
    const patient = performance.now() - begun < PATIENCE;
    if (!there && (!patient || document.documentElement.scrollHeight >= was.y + innerHeight)) {
      scrollTo(0, was.y);
      there = true;
    }
    const found =
      there && was.link !== null && document.querySelector<HTMLElement>(`main a[href="${CSS.escape(was.link)}"]`);
    if (found) found.focus({ preventScroll: true });
    else if (patient && !(there && was.link === null)) requestAnimationFrame(look);
  };
  // What is there now is still the page that is left.
  requestAnimationFrame(look);
}

history.scrollRestoration = 'manual';
addEventListener('scroll', () => (y = scrollY), { passive: true });
addEventListener(
  'click',
  (event) => {
    link = (event.target as Element | null)?.closest('a')?.getAttribute('href') ?? link;
  },
  { capture: true },
);
addEventListener('hashchange', () => {
  leave();
  here = arrive();
  link = null;
  untouched = true;
  const was = left.get(here);
  returned = was !== undefined;
  if (was === undefined) scrollTo(0, 0);
  else goBackTo(was);
});
addEventListener('pagehide', () => {
  leave();
  sessionStorage.setItem(KEY, JSON.stringify([...left]));
});
for (const used of ['keydown', 'pointerdown', 'wheel']) {
  addEventListener(
    used,
    () => {
      untouched = false;
    },
    { capture: true, passive: true },
  );
}
const before = left.get(here);
if (before !== undefined) {
  untouched = true;
  goBackTo(before);
}
