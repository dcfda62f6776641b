import { signal } from '@preact/signals';

/** What the page has just said; a screen reader hears it, and it stands in a corner for those who see. */
export const said = signal('');

/** Long enough to be read twice, ms; what stayed would cover the drawing of the next stage. */
const STANDS = 8000;

let clearing: ReturnType<typeof setTimeout> | undefined;

/** Says something that happened, politely: it interrupts nobody, and goes by itself. */
export function announce(text: string): void {
  said.value = text;
  clearTimeout(clearing);
  clearing = setTimeout(() => {
    said.value = '';
  }, STANDS);
}
