import { defineConfig } from 'vitest/config';

/** Campaigns, and tests of the built command: each takes many seconds, and is left to `npm run test:all`. */
const long = [
  'test/cli/bad-input.test.ts',
  'test/cli/pileway.test.ts',
  'test/compare/differences.test.ts',
  'test/jobs/demo-programs.test.ts',
  'test/jobs/folder-changes.test.ts',
  'test/jobs/options.test.ts',
  'test/jobs/unanswered-sets.test.ts',
  'test/jobs/wrong-sets.test.ts',
  'test/lay/laid.test.ts',
  'test/lay/obstacles.test.ts',
  'test/papers/coloured-papers.test.ts',
  'test/papers/demo-sheet.test.ts',
  'test/papers/option-papers.test.ts',
  'test/papers/run-papers.test.ts',
  'test/program/proof/prove-head.test.ts',
  'test/program/reading/rehearse.test.ts',
  'test/program/seeded-faults.test.ts',
  'test/program/single-changes.test.ts',
  'test/web/serve.test.ts',
  'test/web/tasks/rehearse.test.ts',
];

const apart = [
  'test/drafting/nothing-lost.test.ts',
  'test/web/browser/*.test.ts',
  'test/web/under-way/searches.test.ts',
  'test/web/workshop/held-open.test.ts',
];

const isNamed = process.argv.slice(2).some((word) => word.startsWith('test/'));

export default defineConfig(({ mode }) => ({
  test: {
    // Most files share what they load, which saves a third of the time; those that put something in the place of a
    // module have it for themselves.
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          isolate: false,
          include: mode === 'long' ? long : ['test/**/*.test.ts'],
          // A file that is named on the command line runs all the same.
          exclude: [...(mode === 'all' || mode === 'long' || isNamed ? [] : long), ...apart],
        },
      },
      {
        extends: true,
        test: { name: 'apart', include: mode === 'long' ? [] : apart },
      },
    ],
    // The whole-run tests cut real sets; a slow machine must not fail them for its speed.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // All cores, where vitest would leave one idle.
    maxWorkers: '100%',
    // A test that asserts nothing, as where the list it goes through is empty, fails.
    expect: { requireAssertions: true },
    globalSetup: './test/support/shared-folder.ts',
    setupFiles: ['./test/support/seed.ts'],
    reporters: ['default', './test/support/skipped.ts'],
    // `--mode all` is every test, and longer random searches; `--mode long` is what everyday work leaves out of it.
    env: {
      ...(mode === 'all' || mode === 'long' ? { PILEWAY_SKIP_NOTHING: '1' } : {}),
      ...(mode === 'all' ? { PILEWAY_THOROUGH: '1' } : {}),
    },
    coverage: { provider: 'v8', include: ['src/**/*.ts'], reporter: ['text-summary', 'html'] },
  },
}));
