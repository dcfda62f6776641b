import { type Control, pause } from '../search';
import type { Bench } from './set-bench';

/**
 * Reads how every leaf of a bench looks, which is else read when it is first asked for: an exchange by hand then follows at once. Done again it costs nothing.
 * @throws Cancelled
 */
export async function readLooks({ leaves, meter }: Bench, control: Control): Promise<void> {
  const parts = leaves.length + 1;
  await pause(control, 0, 'Looking at the leaves');
  meter.readAlong();
  for (const [i, leaf] of leaves.entries()) {
    await pause(control, (i + 1) / parts, 'Looking at the figure of the leaves');
    leaf.figure('top');
    leaf.figure('bottom');
  }
}
