import { signal } from '@preact/signals';

/** The three things that a newcomer cannot guess from the screens. */
export type Chapter = 'cards' | 'readings' | 'map';

/** The chapter of the guide that lies open over the stage; null: none. */
export const guide = signal<Chapter | null>(null);
