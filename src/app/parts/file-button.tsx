import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface FileButtonProps {
  children: ComponentChildren;
  accept: string;
  multiple?: boolean;
  /** Asks a phone for its camera instead of its album. */
  camera?: boolean;
  main?: boolean;
  disabled?: boolean;
  onFiles(files: File[]): void;
}

/** A button that asks for files: a real file input, so that keys, touch and screen readers find it. */
export function FileButton({ children, accept, multiple, camera, main, disabled, onFiles }: FileButtonProps) {
  return (
    <label class={`button file${main ? ' main' : ''}`}>
      <input
        type="file"
        accept={accept}
        multiple={multiple}
        disabled={disabled}
        {...(camera && { capture: 'environment' })}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          // The same file may be chosen again after it was refused.
          event.currentTarget.value = '';
          if (files.length > 0) onFiles(files);
        }}
      />
      {children}
    </label>
  );
}

interface DropAreaProps {
  class?: string;
  children: ComponentChildren;
  onFiles(files: File[]): void;
}

/** Where files can be dropped. It only adds to a button that does the same. */
export function DropArea({ class: name = '', children, onFiles }: DropAreaProps) {
  const [over, setOver] = useState(false);
  const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button is the first
    <div
      class={`${name}${over ? ' dropping' : ''}`}
      onDragOver={(event) => {
        if (!carriesFiles(event)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        if (!carriesFiles(event)) return;
        event.preventDefault();
        setOver(false);
        onFiles([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      {children}
    </div>
  );
}
