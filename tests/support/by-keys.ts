import type { Locator, Page } from 'playwright';
import { expect } from 'vitest';

/** More presses of Tab than any screen has stops: who needs more is in a trap. */
const MOST_STOPS = 500;

/** What has the focus. */
interface Focus {
  /** Whether nothing has it: a person who works by keys is then back at the top of the page. */
  readonly lost: boolean;
  /** Whether an outline or a heavier line shows it, inside the window. */
  readonly seen: boolean;
  /** Whether the same had it at the last look. */
  readonly same: boolean;
  readonly says: string;
}

/**
 * A person with a keyboard alone. Every stop on the way is looked at: something has the focus, it is seen, and the next Tab goes on.
 */
export class Keys {
  constructor(readonly page: Page) {}

  /** Goes to a control by Tab or Shift+Tab. */
  async to(target: Locator): Promise<void> {
    await target.waitFor({ state: 'attached' });
    for (let stop = 0; stop < MOST_STOPS; stop++) {
      const way = await target.evaluate((element) => {
        const { activeElement } = document;
        if (activeElement === element) return 'here';
        const before =
          activeElement && activeElement.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_PRECEDING;
        return before ? 'Shift+Tab' : 'Tab';
      });
      if (way === 'here') return;
      await this.page.keyboard.press(way);
      const focus = await focusOf(this.page);
      expect(focus, focus.says).toMatchObject({ lost: false, seen: true, same: false });
    }
    throw new Error(`${target} is not reached by Tab`);
  }

  /** Goes there and presses a key; whatever that does, something keeps the focus. */
  async press(target: Locator, ...keys: readonly string[]): Promise<void> {
    await this.to(target);
    for (const key of keys.length > 0 ? keys : ['Enter']) await this.key(key);
  }

  /** Presses a key where the focus is. */
  async key(key: string): Promise<void> {
    await this.page.keyboard.press(key);
    // What it leads to may take a moment to come.
    await expect
      .poll(() => focusOf(this.page), { timeout: 5000, message: `the focus after ${key}` })
      .toMatchObject({ lost: false, seen: true });
  }

  /** Types into a field in the place of what stands there, and Enter. */
  async type(target: Locator, text: string): Promise<void> {
    await this.to(target);
    await this.page.keyboard.press('ControlOrMeta+a');
    await this.page.keyboard.type(text);
    await this.key('Enter');
  }
}

/** What has the focus now, and whether it is seen. */
function focusOf(page: Page): Promise<Focus> {
  return page.evaluate((): Focus => {
    const here = document.activeElement;
    const same = Reflect.get(window, 'lastStop') === here;
    Reflect.set(window, 'lastStop', here);
    if (!here || here === document.body) return { lost: true, seen: false, same, says: 'nothing' };
    // A file field is shown by its label, a key on its strip by its own line.
    const shown = here.closest('label.file') ?? here.querySelector(':scope > polygon') ?? here;
    const { outlineStyle, outlineWidth, strokeWidth } = getComputedStyle(shown);
    const outlined = outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
    const drawn = shown instanceof SVGElement && Number.parseFloat(strokeWidth) >= 5;
    const { top, bottom, left, right, width, height } = shown.getBoundingClientRect();
    const inWindow = width > 0 && height > 0 && bottom > 0 && right > 0 && top < innerHeight && left < innerWidth;
    const name = here.getAttribute('aria-label') ?? here.textContent?.slice(0, 60) ?? '';
    return { lost: false, seen: (outlined || drawn) && inWindow, same, says: `${here.tagName} ${name}` };
  });
}
