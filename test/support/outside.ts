/** Something that a test needs and the project does not bring along. */
export interface Outside {
  readonly missing: boolean;
  /** For the test's name, empty where it is there: ` (skipped: needs ...)`. */
  readonly note: string;
}

function skipsNothing(): boolean {
  return process.env['PILEWAY_SKIP_NOTHING'] === '1';
}

/**
 * Where `present` is false the test is to be skipped by name: `it.skipIf(thing.missing)(`...${thing.note}`)`.
 * How many were skipped for which `what` is said in one line at the end of a run.
 * With PILEWAY_SKIP_NOTHING=1 in the environment, as in the gate, throws instead: there a test that
 * was never run must not look like one that passed.
 */
export function outside(what: string, present: boolean): Outside {
  if (present) return { missing: false, note: '' };
  if (skipsNothing()) {
    throw new Error(`this test needs ${what}, and PILEWAY_SKIP_NOTHING=1 lets it skip nothing`);
  }
  return { missing: true, note: ` (skipped: needs ${what})` };
}

/** What a test's name says of why it is skipped; undefined where it says nothing. */
export function neededBy(name: string): string | undefined {
  return / \(skipped: needs (.+?)\)/.exec(name)?.[1];
}

/** For tests that take too long for everyday work. */
export const gateOnly = outside('npm run test:all', skipsNothing());
