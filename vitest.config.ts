import { defineConfig } from 'vitest/config';

export default defineConfig(({ mode }) => ({
  test: {
    include: ['test/**/*.test.ts'],
    // The whole-run tests cut real sets; a slow machine must not fail them for its speed.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // All cores, where vitest would leave one idle.
    maxWorkers: '100%',
    // A test that asserts nothing, as where the list it goes through is empty, fails.
    expect: { requireAssertions: true },
    setupFiles: ['./test/support/seed.ts'],
    reporters: ['default', './test/support/skipped.ts'],
    // `vitest --mode all` is the gate: every test, and longer random searches.
    env: mode === 'all' ? { PILEWAY_SKIP_NOTHING: '1', PILEWAY_THOROUGH: '1' } : {},
    coverage: { provider: 'v8', include: ['src/**/*.ts'], reporter: ['text-summary', 'html'] },
  },
}));
