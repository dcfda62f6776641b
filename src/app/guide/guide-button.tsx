import type { ComponentChildren } from 'preact';
import { type Chapter, guide } from './guide';

/** Opens the guide at a chapter, where it is wanted. */
export function GuideButton({ chapter, children }: { chapter: Chapter; children: ComponentChildren }) {
  return (
    <button
      type="button"
      class="button quiet"
      onClick={() => {
        guide.value = chapter;
      }}
    >
      {children}
    </button>
  );
}
