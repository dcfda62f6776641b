import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** A dialog over the whole screen, open as long as it is there: a camera needs all of it. Escape closes it. */
export function useSheet(): RefObject<HTMLDialogElement | null> {
  const sheet = useRef<HTMLDialogElement>(null);
  useEffect(() => sheet.current?.showModal(), []);
  return sheet;
}
