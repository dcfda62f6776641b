import { signal } from '@preact/signals';

/** What the page has just said; a screen reader hears it, and it stands in a corner for those who see. */
export const said = signal('');

/** Says something that happened, politely: it interrupts nobody. */
export function announce(text: string): void {
  said.value = text;
}
