import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject } from 'vitest';
import { browserLaunch } from './browser';

/**
 * A real browser for one test file. Call it at the top of the file; each test then opens pages that show the built app,
 * each with storage of its own. A page that throws an error, or wants what its security policy forbids, fails its test.
 * @param extra what else the browser is started with
 */
export function useApp(extra: () => Promise<readonly string[]> = async () => []) {
  let browser: Browser;
  const errors: Error[] = [];
  beforeAll(async () => {
    const launch = await browserLaunch();
    browser = await chromium.launch({ ...launch, args: [...(launch.args ?? []), ...(await extra())] });
  });
  afterEach(async () => {
    await Promise.all(browser.contexts().map((context) => context.close()));
    expect(errors.splice(0)).toEqual([]);
  });
  afterAll(() => browser.close());

  return {
    /** A blank page that knows the app's address: `page.goto('/')` shows the app. */
    async blank(options: BrowserContextOptions = {}): Promise<Page> {
      const context = await browser.newContext({ baseURL: inject('appUrl'), ...options });
      const page = await context.newPage();
      page.on('pageerror', (error) => errors.push(error));
      page.on('console', (said) => {
        if (/Content Security Policy/.test(said.text())) errors.push(new Error(said.text()));
      });
      return page;
    },
    /** Errors that a test provoked are not its failure. */
    forgive(provoked: RegExp): void {
      const others = errors.splice(0).filter(({ message }) => !provoked.test(message));
      errors.push(...others);
    },
    async open(options: BrowserContextOptions = {}): Promise<Page> {
      const page = await this.blank(options);
      await page.goto('/');
      return page;
    },
  };
}
