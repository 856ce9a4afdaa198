import { defineConfig } from 'vite';

/**
 * The page is built into the folder of the server that gives it out, and loads nothing from anywhere
 * else.
 */
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  // Fonts and pictures stay files, since the page's security policy allows none inside the style
  // sheet.
  build: { outDir: '../../../dist/web/page', emptyOutDir: true, assetsInlineLimit: 0 },
});
