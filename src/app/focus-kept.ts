/** What can have the focus by keys. */
const FOCUSABLE = 'a[href], button:enabled, input:enabled, select:enabled, summary, [tabindex="0"]';

/** Where the focus stood. */
interface Stood {
  readonly element: Element;
  /** What it stood in, the innermost first. */
  readonly around: readonly Element[];
  /** All that could have had the focus then, in the order of Tab. */
  readonly order: readonly Element[];
}

/**
 * Keeps the focus near its place when what has it goes: a button that vanishes with its own press, or can be pressed no more, would else
 * send a person who works by keys back to the top of the page. It goes to what came in its place, else to what follows.
 */
export function keepFocus(page: Document): void {
  let stood: Stood | null = null;

  page.addEventListener('focusin', ({ target }) => {
    if (!(target instanceof Element)) return;
    // Who works by hand sees where to go on, and a field that took the focus by itself would open the keyboard of a phone.
    stood = target.matches(':focus-visible') ? standing(page, target) : null;
  });

  new MutationObserver(() => {
    if (!stood || (stood.element.isConnected && !stood.element.matches(':disabled'))) return;
    const { activeElement } = page;
    if (activeElement && activeElement !== page.body && activeElement !== stood.element) return;
    next(stood)?.focus();
  }).observe(page.body, { childList: true, subtree: true, attributes: true, attributeFilter: ['disabled'] });
}

function standing(page: Document, element: Element): Stood {
  const around: Element[] = [];
  for (let up = element.parentElement; up; up = up.parentElement) around.push(up);
  return { element, around, order: [...page.querySelectorAll(FOCUSABLE)] };
}

/** Where the focus goes on to; nothing while there is nothing to go to. */
function next({ element, around, order }: Stood): HTMLElement | undefined {
  const known = new Set(order);
  const here = order.indexOf(element);
  const later = new Set(order.slice(here + 1));
  for (const part of around) {
    if (!part.isConnected) continue;
    const near = [...part.querySelectorAll<HTMLElement>(FOCUSABLE)].filter((one) => one.checkVisibility());
    const fresh = near.filter((one) => !known.has(one));
    // Never onto what takes something away: a second press would do it.
    const found = fresh.find((one) => !one.matches('.cut')) ?? near.find((one) => later.has(one)) ?? near.at(-1);
    if (found) return found;
  }
}
