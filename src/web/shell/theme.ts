import { effect, signal } from '@preact/signals';

export const THEMES = [
  { id: 'paper', name: 'Paper' },
  { id: 'night', name: 'Night' },
  { id: 'sun', name: 'Sun' },
] as const;
export type Theme = (typeof THEMES)[number]['id'];

const KEY = 'theme';
const GROUNDS: Readonly<Record<Theme, string>> = { paper: '#f7f2e8', night: '#14181a', sun: '#ffffff' };

/** `public/theme.js` found the first one before the page was painted. */
export const theme = signal<Theme>((document.documentElement.dataset.theme ?? 'paper') as Theme);

/** The page's colours follow the choice. */
export function followTheme(): void {
  effect(() => {
    document.documentElement.dataset.theme = theme.value;
    document.querySelector('meta[name=theme-color]')?.setAttribute('content', GROUNDS[theme.value]);
  });
}

export function chooseTheme(chosen: Theme): void {
  localStorage.setItem(KEY, chosen);
  theme.value = chosen;
}
