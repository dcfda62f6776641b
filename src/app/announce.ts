import { effect, type ReadonlySignal, signal } from '@preact/signals';

/** What the page has just said; a screen reader hears it, and it stands in a corner for those who see. */
export const said = signal('');

/** What a screen reader alone is told. */
export const heard = signal('');

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

/** Tells a screen reader alone what is plain to see. */
export function sayQuietly(text: string): void {
  heard.value = text;
}

/** How far long work is, as the screens show it. */
interface Running {
  readonly label: string;
  readonly fraction: number;
}

/** Tells a screen reader that long work has begun, and each quarter of it; how it ended is said by what began it. */
export function tellProgress(running: ReadonlySignal<Running | null>): void {
  let told = '';
  effect(() => {
    const now = running.value;
    const quarter = now && Math.floor(4 * now.fraction);
    const words = !now ? '' : quarter ? `${now.label}: ${25 * quarter} %` : `${now.label} …`;
    if (words && words !== told) sayQuietly(words);
    told = words;
  });
}
