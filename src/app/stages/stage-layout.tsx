import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { NextBar } from '../shell/next-bar';
import { TitleBlock } from '../shell/title-block';

/** How far the drawer of a narrow screen is open. It stays so from stage to stage. */
const drawer = signal<'low' | 'half' | 'full'>('half');
const NEXT = { low: 'half', half: 'full', full: 'low' } as const;
const SAYS = { low: 'Show the facts', half: 'Show more facts', full: 'Show the drawing' };
/** A drag of the drawer's grip counts from here, px. */
const PULL = 30;

interface StageLayoutProps {
  /** Names the facts for screen readers. */
  title: string;
  drawing: ComponentChildren;
  facts: ComponentChildren;
  /** What stands under the thumb instead of the next step of the job; null while work is under way. */
  primary?: ComponentChildren;
}

/** A stage's screen: the drawing at its heart; facts beside it on a wide screen, in a drawer under the thumb on a narrow one. */
export function StageLayout({ title, drawing, facts, primary = <NextBar /> }: StageLayoutProps) {
  const pressed = useRef(0);
  const pulled = useRef(false);

  function onPull(event: PointerEvent) {
    const by = pressed.current - event.clientY;
    pulled.current = Math.abs(by) >= PULL;
    if (!pulled.current) return;
    if (by > 0) drawer.value = drawer.value === 'low' ? 'half' : 'full';
    else drawer.value = drawer.value === 'full' ? 'half' : 'low';
  }

  return (
    <div class={`stage drawer-${drawer.value}`}>
      <section class="stage-drawing" aria-label={`${title}: drawing`}>
        {drawing}
      </section>
      <section class="stage-facts" aria-label={`${title}: facts`}>
        <button
          type="button"
          class="grip"
          aria-label={SAYS[drawer.value]}
          onPointerDown={(event) => {
            pressed.current = event.clientY;
            event.currentTarget.setPointerCapture(event.pointerId);
          }}
          onPointerUp={onPull}
          onClick={() => {
            // A pull has moved it already, and ends in a click too.
            if (!pulled.current) drawer.value = NEXT[drawer.value];
            pulled.current = false;
          }}
        >
          <span />
        </button>
        <div class="facts-scroll">
          <div class="facts-body stack">{facts}</div>
          <TitleBlock />
        </div>
        {primary && <div class="primary">{primary}</div>}
      </section>
    </div>
  );
}
