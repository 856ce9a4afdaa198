import { defineConfig } from 'vite';

/** The page is built beside the server that gives it out: no network, no other origin. */
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  // Fonts and pictures stay files: the page's security policy allows none inside the style sheet.
  build: { outDir: '../../../dist/web/page', emptyOutDir: true, assetsInlineLimit: 0 },
});
