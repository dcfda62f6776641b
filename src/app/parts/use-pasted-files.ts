import { useEffect, useRef } from 'preact/hooks';

/** Hears of files and pictures that are pasted anywhere on the page; pasted words go where they always go. */
export function usePastedFiles(onFiles: (files: File[]) => void): void {
  const hear = useRef(onFiles);
  hear.current = onFiles;
  useEffect(() => {
    const onPaste = (event: ClipboardEvent) => {
      const files = [...(event.clipboardData?.files ?? [])];
      if (files.length === 0) return;
      event.preventDefault();
      hear.current(files);
    };
    addEventListener('paste', onPaste);
    return () => removeEventListener('paste', onPaste);
  }, []);
}
