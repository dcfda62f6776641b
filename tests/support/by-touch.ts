import type { CDPSession, Locator, Page } from 'playwright';

/** A place on the screen, px. */
type Place = readonly [x: number, y: number];

/** A finger rests so long before it lifts, ms: one that lifts while it moves throws, and the browser takes the next tap as a stop to that. */
const RESTS = 200;
/** Places on the way of a drag. */
const STEPS = 4;

/** A person with fingers alone, and the keyboard that the phone shows for a field. */
export class Fingers {
  private constructor(
    readonly page: Page,
    private readonly session: CDPSession,
  ) {}

  static async on(page: Page): Promise<Fingers> {
    return new Fingers(page, await page.context().newCDPSession(page));
  }

  /** Taps what a finger hits where it stands. */
  async tap(target: Locator): Promise<void> {
    await target.tap({ trial: true });
    await this.tapAt(await middleOf(target));
  }

  async tapAt(at: Place): Promise<void> {
    // Both at once: on a busy machine a tap would else become a long press.
    await Promise.all([this.touch('touchStart', at), this.touch('touchEnd')]);
  }

  /** Taps a field and types into it in the place of what stands there, and Enter. */
  async type(field: Locator, text: string): Promise<void> {
    await this.tap(field);
    await this.page.keyboard.press('ControlOrMeta+a');
    await this.page.keyboard.insertText(text);
    await this.page.keyboard.press('Enter');
  }

  /** One finger, from a place to another. */
  async drag([x0, y0]: Place, [x1, y1]: Place): Promise<void> {
    await this.touch('touchStart', [x0, y0]);
    for (let i = 1; i <= STEPS; i++)
      await this.touch('touchMove', [x0 + ((x1 - x0) * i) / STEPS, y0 + ((y1 - y0) * i) / STEPS]);
    await this.page.waitForTimeout(RESTS);
    await this.touch('touchMove', [x1, y1]);
    await this.touch('touchEnd');
  }

  /** Two fingers about the middle of something, that far apart at first and at last, px. */
  async pinch(target: Locator, from: number, to: number): Promise<void> {
    const [x, y] = await middleOf(target);
    const apart = (by: number): Place[] => [
      [x - by / 2, y],
      [x + by / 2, y],
    ];
    await this.touch('touchStart', ...apart(from));
    for (let i = 1; i <= STEPS; i++) await this.touch('touchMove', ...apart(from + ((to - from) * i) / STEPS));
    await this.touch('touchEnd');
  }

  private async touch(type: 'touchStart' | 'touchMove' | 'touchEnd', ...at: readonly Place[]): Promise<void> {
    const touchPoints = at.map(([x, y], id) => ({ x, y, id }));
    await this.session.send('Input.dispatchTouchEvent', { type, touchPoints });
  }
}

/** The middle of what is seen of something, px of the screen. */
export async function middleOf(target: Locator): Promise<Place> {
  await target.scrollIntoViewIfNeeded();
  const box = await target.boundingBox();
  if (!box) throw new Error(`${target} is not on the screen`);
  return [box.x + box.width / 2, box.y + box.height / 2];
}
