import { preact } from '@preact/preset-vite';
import { defineConfig } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { CLOSED_WORKER, closedByDefault, PERMISSIONS } from './src/app/build/closed.ts';
import { serveDemoImages } from './src/app/build/demo-images.ts';
import { shippedLicences } from './src/app/build/licences.ts';
import { withoutNode } from './src/app/build/no-node.ts';
import { splitOpencvWasm } from './src/app/build/opencv-split.ts';

const licences = shippedLicences();

export default defineConfig({
  publicDir: 'src/app/public',
  // Not "localhost": on some machines that name means IPv6 to one program and IPv4 to the next.
  server: { host: '127.0.0.1' },
  preview: { host: '127.0.0.1', headers: PERMISSIONS },
  build: {
    chunkSizeWarningLimit: 600,
    reportCompressedSize: false,
    // The rooms below the app do nothing when they are loaded, so a stage fetches only what it calls.
    rolldownOptions: {
      treeshake: { moduleSideEffects: [{ test: /\/src\/(keys|plan|layout|leaves|cutmap)\//, sideEffects: false }] },
    },
  },
  worker: { format: 'es', plugins: () => [splitOpencvWasm(), withoutNode(), licences.worker()] },
  plugins: [
    preact(),
    closedByDefault(),
    licences.page(),
    serveDemoImages('demo-images'),
    VitePWA({
      // A new version waits until the user agrees: a reload in the middle of a drag would be a rude surprise.
      registerType: 'prompt',
      // The app registers the worker itself, after first paint, and says when it is ready offline.
      injectRegister: false,
      manifest: {
        name: 'Waneline',
        short_name: 'Waneline',
        description: 'Plans how live-edge slabs are cut, from photos, before a cut is made',
        display: 'standalone',
        background_color: '#f4f1ea',
        theme_color: '#f4f1ea',
        // A job file that is opened on the device comes as a file, by no request. Shared photos would come as one, which a browser that has lost
        // its service worker sends out: so the app is no share target.
        file_handlers: [{ action: '.', accept: { 'application/zip': ['.zip'] } }],
        icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' }],
      },
      workbox: {
        // Everything, the demo job too, so that "ready offline" holds for every stage.
        globPatterns: ['**/*.{html,js,css,svg,wasm,ttf,woff2,json,jpg,png,webmanifest}'],
        maximumFileSizeToCacheInBytes: 20 * 2 ** 20,
        // Without this, the very first visit would go offline only after a reload.
        clientsClaim: true,
        cleanupOutdatedCaches: true,
        importScripts: [CLOSED_WORKER],
      },
    }),
  ],
});
