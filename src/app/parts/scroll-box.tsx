import type { ComponentChildren } from 'preact';

interface ScrollBoxProps {
  /** What is in it, for those who do not see it; no two on a page say the same. */
  says: string;
  kind?: string;
  children: ComponentChildren;
}

/** A box that scrolls and has nothing in it to press. */
export function ScrollBox({ says, kind = 'scroll-x', children }: ScrollBoxProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls is reached by Tab, so that arrow keys scroll it
    <section class={kind} aria-label={says} tabIndex={0}>
      {children}
    </section>
  );
}
