import { signal } from '@preact/signals';
import type { Disk } from './shelf';

/** What the browser grants the jobs; null until it was asked. */
export const disk = signal<Disk | null>(null);

/** Less than this, bytes, is nearly full: a job of thirty photos takes as much. */
const NEARLY_FULL = 250e6;
/** One photo of 12 million pixels with its face, bytes. */
const PHOTO = 8e6;

/** That the disk is nearly full, in a sentence, before a write fails; null while there is room. */
export function nearlyFull({ free }: Disk): string | null {
  if (free === null || free >= NEARLY_FULL) return null;
  const photos = Math.floor(free / PHOTO);
  const room = photos === 0 ? 'no further photo' : photos === 1 ? 'one more photo' : `some ${photos} more photos`;
  return `This browser has room for ${room}. Save jobs that are done as files and remove them here, or free room on the device.`;
}
