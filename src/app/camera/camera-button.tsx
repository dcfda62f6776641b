import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { FileButton } from '../parts/file-button';
import { CameraSheet } from './late';
import { canSee } from './stream';
import type { ShotWish } from './wish';

interface CameraButtonProps {
  children: ComponentChildren;
  wish: ShotWish;
  main?: boolean;
  onFiles(files: File[]): void;
}

/** A button that opens the camera in place; where a page cannot see through one, it asks the device's own camera for a file. */
export function CameraButton({ children, wish, main = false, onFiles }: CameraButtonProps) {
  const [open, setOpen] = useState(false);
  if (!canSee())
    return (
      <FileButton accept="image/*" camera main={main} onFiles={onFiles}>
        {children}
      </FileButton>
    );
  return (
    <>
      <button type="button" class={main ? 'button main' : 'button'} onClick={() => setOpen(true)}>
        {children}
      </button>
      {open && <CameraSheet wish={wish} onFiles={onFiles} onClose={() => setOpen(false)} />}
    </>
  );
}
