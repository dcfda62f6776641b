import type { Page } from 'playwright';

/** How a phone shows the app. */
export const PHONE = { locale: 'en-GB', viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** A finger's target is this high or wide at least, px, less what rounding takes. */
const TARGET = 43.9;

/** Controls of a stage that a finger would miss, a line each: less than 44 px high. A tick is hit by its label. */
export async function smallTargets(page: Page): Promise<string> {
  const small = await page
    .locator(
      '.stage-facts :is(button, input, select, summary), .sheet-tools button, .job-head :is(a, button), .strip-reach',
    )
    .evaluateAll(
      (all, least) =>
        all
          .map((one) => ({
            box: (one.closest('label') ?? one).getBoundingClientRect(),
            says: one.outerHTML.slice(0, 80),
          }))
          .filter(({ box }) => box.height > 0 && box.height < least)
          .map(({ box, says }) => `${box.height} ${says}`),
      TARGET,
    );
  return small.join('\n');
}
