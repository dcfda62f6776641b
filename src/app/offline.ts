import { registerSW } from 'virtual:pwa-register';
import { signal } from '@preact/signals';

/** Whether every part of the app is stored on this device, so that it works with the network gone. */
export const readyOffline = signal(false);

/** Set when a newer version waits; calling it takes that version and reloads the page. */
export const update = signal<(() => void) | null>(null);

/** Stores the app for offline use. Called after first paint, so that it delays nothing. */
export function becomeOffline(): void {
  if (!('serviceWorker' in navigator)) return;
  const accept = registerSW({
    onNeedRefresh() {
      update.value = () => void accept(true);
    },
  });
  // A service worker is active only when all that it stores has arrived.
  void navigator.serviceWorker.ready.then(() => {
    readyOffline.value = true;
  });
}
