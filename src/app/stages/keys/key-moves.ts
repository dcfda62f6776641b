import type { KeysInput } from '../../../keys';

/** The shop's next longer or shorter size; the same where there is none. */
export function nextSize({ sizes }: KeysInput, size: string, by: number): string {
  const inOrder = [...sizes].sort((a, b) => a.length - b.length);
  const place = inOrder.findIndex(({ id }) => id === size);
  return inOrder[Math.min(inOrder.length - 1, Math.max(0, place + by))]?.id ?? size;
}
