import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { Title } from './title.tsx';

/** A screen fetched when it is first shown. */
export function lazily(load: () => Promise<ComponentType>): ComponentType {
  const loaded = signal<ComponentType | null>(null);
  let begun = false;
  return function Lazy() {
    const Screen = loaded.value;
    if (Screen) return <Screen />;
    if (!begun) {
      begun = true;
      load().then((screen) => {
        loaded.value = screen;
      });
    }
    return <Title aria-busy={true}>…</Title>;
  };
}
