import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';

/**
 * What the page may load and run: its own files and what it makes itself, nothing else. Workers are not bound by it, and OpenCV's needs to
 * make functions of text; that they reach no other place either is seen to by the service worker (`closed-worker.js`), through which
 * whatever page and workers fetch must go.
 */
const POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  // What the camera shows is handed over as it is, never fetched.
  "media-src 'none'",
  "connect-src 'self' blob: data:",
  "worker-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/**
 * What the page may use of the device: its camera, and how it is held. A page cannot say this of itself, only who serves it, so it
 * goes with what `npm start` serves; elsewhere the browser asks before the camera is used, as it always does.
 */
export const PERMISSIONS = {
  'Permissions-Policy': [
    ...['camera', 'accelerometer', 'gyroscope'].map((own) => `${own}=(self)`),
    ...['microphone', 'geolocation', 'display-capture', 'usb', 'serial', 'payment'].map((none) => `${none}=()`),
  ].join(', '),
};

/** Name of the script that the service worker takes in before anything of its own. */
export const CLOSED_WORKER = 'closed-worker.js';

/** Closes the built app by default: a policy for its page, and a service worker that lets no request out. */
export function closedByDefault(): Plugin {
  return {
    name: 'waneline:closed',
    apply: 'build',
    // Before the scripts that it is to bind.
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        injectTo: 'head-prepend',
      },
    ],
    generateBundle() {
      const source = readFileSync(join(import.meta.dirname, CLOSED_WORKER));
      this.emitFile({ type: 'asset', fileName: CLOSED_WORKER, source });
    },
  };
}
