import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chromium, type Page } from 'playwright';
import { browserLaunch } from './browser';

/** A browser of its own process, whose profile outlives it: it can be killed as a power loss kills it. */
export interface MortalBrowser {
  readonly page: Page;
  /** Ends it and all its processes at once, with nothing said to them. */
  kill(): Promise<void>;
}

/** Starts one over the profile in a folder. */
export async function startMortal(profile: string): Promise<MortalBrowser> {
  const { executablePath, args = [], env } = await browserLaunch();
  if (!executablePath) throw new Error('no browser is installed');
  const browser = spawn(
    executablePath,
    [
      ...args,
      ...(args.some((arg) => arg.startsWith('--headless')) ? [] : ['--headless=new']),
      `--user-data-dir=${profile}`,
      '--remote-debugging-port=0',
      'about:blank',
    ],
    // A group of its own, so that all of its processes die in one stroke.
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'], ...(env && { env: env as NodeJS.ProcessEnv }) },
  );
  const connection = await chromium.connectOverCDP(await addressOf(browser));
  const [context] = connection.contexts();
  const page = context?.pages()[0] ?? (await context?.newPage());
  if (!page) throw new Error('the browser shows no page');
  return {
    page,
    async kill() {
      const gone = once(browser, 'exit');
      process.kill(-(browser.pid as number), 'SIGKILL');
      await gone;
      await connection.close().catch(() => {});
    },
  };
}

/** Where a browser listens, as it says when it has started. */
async function addressOf(browser: ChildProcess): Promise<string> {
  let said = '';
  for await (const chunk of browser.stderr as NodeJS.ReadableStream) {
    said += chunk;
    const address = /DevTools listening on (\S+)/.exec(said)?.[1];
    if (address) {
      // Read on, or a full pipe would stop it.
      browser.stderr?.resume();
      return address;
    }
  }
  throw new Error(`the browser did not start: ${said.slice(-400)}`);
}
