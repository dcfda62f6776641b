import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { browserLaunch } from './tests/support/browser.ts';
import { photoKinds } from './tests/support/photo-commands.ts';

// The three ways to test. `npx vitest run --project unit` runs one of them, and a file name after it one file.
export default defineConfig({
  test: {
    // Two cores, and Node leaves one idle unless told.
    maxWorkers: 2,
    // OpenCV's module is a promise with a default export of its own, which Vitest's guess gets wrong.
    deps: { interopDefault: false },
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/browser/**', 'tests/**/*.browser.test.{ts,tsx}'],
          setupFiles: 'tests/support/seed.ts',
          // The rooms keep no state (DESIGN 3), so files may share them: each would else load OpenCV and the solver anew, a fifth of the time.
          isolate: false,
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        extends: './vite.config.ts',
        // Known beforehand, so that Vite does not find one in the middle of a test and reload the page.
        optimizeDeps: {
          include: [
            'clipper2-ts',
            'comlink',
            'fabric',
            'fflate',
            'highs',
            'idb-keyval',
            'mutative',
            'opencv.js',
            'valibot',
          ],
        },
        test: {
          name: 'page',
          include: ['tests/**/*.browser.test.{ts,tsx}'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            // What only Node can make for a test in a browser.
            commands: { photoKinds },
            provider: playwright({ launchOptions: await browserLaunch() }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
      {
        extends: true,
        test: {
          name: 'app',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: 'tests/support/served-app.ts',
          // Two cores: the app's workers need them more than a second browser does.
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 60_000,
          // What is waited for may take long where the machine is busy: the usual second fails then.
          expect: { poll: { timeout: 15_000 } },
        },
      },
    ],
  },
});
