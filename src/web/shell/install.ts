import { computed, signal } from '@preact/signals';

/** What Chromium hands out when a page can be installed; not in the standard, nor in TypeScript's DOM. */
interface InstallPrompt extends Event {
  prompt(): Promise<{ readonly outcome: 'accepted' | 'dismissed' }>;
}

const offered = signal<InstallPrompt | null>(null);
const standalone = matchMedia('(display-mode: standalone)');
const inside = signal(standalone.matches);

/** `inside`: this is the installed app; `offered`: the browser installs it when asked; `by-hand`: the browser's own menu may. */
export const install = computed(() => (inside.value ? 'inside' : offered.value !== null ? 'offered' : 'by-hand'));

addEventListener('beforeinstallprompt', (event) => {
  // The browser would ask at a time of its own.
  event.preventDefault();
  offered.value = event as InstallPrompt;
});
addEventListener('appinstalled', () => {
  offered.value = null;
  inside.value = true;
});
standalone.addEventListener('change', () => (inside.value = standalone.matches));

/** Lets the browser ask. A prompt can be used once; the browser hands out another when it likes. */
export async function askToInstall(): Promise<void> {
  const prompt = offered.value;
  offered.value = null;
  await prompt?.prompt();
}

const TOLD = 'install-told';
/** Whether it was never told that this can be installed; from now on it was. */
export function firstTelling(): boolean {
  const first = localStorage.getItem(TOLD) === null;
  localStorage.setItem(TOLD, 'yes');
  return first;
}
