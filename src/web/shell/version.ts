import { signal } from '@preact/signals';

/** A newer version of the app that is here already and waits for its reader. */
export const newer = signal<ServiceWorker | null>(null);

/** Puts the app by on this device, and hears of newer versions. */
export async function keepOffline(): Promise<void> {
  const { serviceWorker } = navigator;
  const registration = await serviceWorker.register('/offline.js');
  const hear = (worker: ServiceWorker | null): void => {
    const look = (): void => {
      // Without a controller it is the first of all, not a newer one.
      if (worker?.state === 'installed' && serviceWorker.controller !== null) newer.value = worker;
    };
    worker?.addEventListener('statechange', look);
    look();
  };
  hear(registration.waiting);
  registration.addEventListener('updatefound', () => hear(registration.installing));
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') registration.update().catch(() => undefined);
  });
}

/** The newer version takes over, and this page with it. */
export function takeNewer(): void {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  newer.value?.postMessage('take-over');
}
