import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import '../styles/guide.css';

/** Pages to read, over the stage: closed by their button, by Escape, or by a tap beside them, and nothing is left for them. */
export function OverSheet(props: { title: string; page?: string; onClose(): void; children: ComponentChildren }) {
  const { title, page, onClose, children } = props;
  const sheet = useRef<HTMLElement>(null);
  useEffect(() => sheet.current?.showPopover(), []);
  // Another page begins at its top.
  useEffect(() => sheet.current?.scrollTo(0, 0), [page]);
  return (
    <section
      ref={sheet}
      class="guide card"
      popover="auto"
      aria-label={title}
      onToggle={(event) => {
        if (event.newState === 'closed') onClose();
      }}
    >
      <header class="row">
        <h2>{title}</h2>
        <button type="button" class="button" onClick={() => sheet.current?.hidePopover()}>
          Close
        </button>
      </header>
      {children}
    </section>
  );
}
