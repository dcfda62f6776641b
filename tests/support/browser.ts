import { execFile } from 'node:child_process';
import { access, mkdir, mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import type { LaunchOptions } from 'playwright';

/** Where Chrome and Chromium live when they are installed; the first that exists is used. */
const INSTALLED = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:/Program Files/Google/Chrome/Application/chrome.exe',
];

// Tests run as root on build machines, where Chromium's sandbox refuses to start, and without a network.
const ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const exists = (path: string) =>
  access(path).then(
    () => true,
    () => false,
  );

/**
 * How to start a browser on this machine: the one that the environment variable CHROME names, else an installed one,
 * else the one inside the npm package. `CHROME=package` asks for the last even where another is installed.
 */
export async function browserLaunch(): Promise<LaunchOptions> {
  const asked = process.env.CHROME;
  if (asked === 'package') return packagedBrowser();
  for (const executablePath of asked ? [asked] : INSTALLED)
    if (await exists(executablePath)) return { executablePath, args: ARGS };
  if (asked) throw new Error(`CHROME names ${asked}, which does not exist`);
  // The package holds a Linux x64 build only. Elsewhere Playwright says by itself which browser it misses.
  return process.platform === 'linux' && process.arch === 'x64' ? packagedBrowser() : { args: ARGS };
}

/** Unpacks @sparticuz/chromium once, with the libraries and fonts that a bare machine lacks. */
async function packagedBrowser(): Promise<LaunchOptions> {
  const cache = resolve('node_modules/.cache');
  const folder = join(cache, 'chromium-147');
  if (!(await exists(folder))) await unpackChromium(cache, folder);
  return {
    executablePath: join(folder, 'chromium'),
    args: [...ARGS, '--no-zygote', '--headless=shell'],
    env: {
      ...(process.env as Record<string, string>),
      LD_LIBRARY_PATH: join(folder, 'al2023', 'lib'),
      FONTCONFIG_PATH: join(folder, 'fonts'),
    },
  };
}

/** Unpacks beside the final folder and renames at the end, so that two test runs at once never see half a browser. */
async function unpackChromium(cache: string, folder: string): Promise<void> {
  await mkdir(cache, { recursive: true });
  const unfinished = await mkdtemp(`${folder}-`);
  // The package unpacks into the temporary folder, and brings its libraries only where it thinks that it is on Lambda.
  const env = { ...process.env, TMPDIR: unfinished, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };
  const unpack = "import('@sparticuz/chromium').then((chromium) => chromium.default.executablePath())";
  await promisify(execFile)(process.execPath, ['--eval', unpack], { env });
  // Its own list of font folders knows Lambda's only.
  const fonts = `<fontconfig><dir>${join(folder, 'fonts')}</dir></fontconfig>`;
  await writeFile(join(unfinished, 'fonts', 'fonts.conf'), fonts);
  await rename(unfinished, folder).catch(async (error) => {
    await rm(unfinished, { recursive: true });
    if (!(await exists(folder))) throw error;
  });
}
