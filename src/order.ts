/**
 * The rooms of src/ in the order in which data flows through them. A room may import the ones before it
 * and nothing after it; test/order.test.ts reads every import line and holds the code to that.
 */
export const rooms = [
  'base',
  // The stages.
  'geometry',
  'drawing',
  'pattern',
  'handing',
  'lay',
  'knife',
  'program',
  'compare',
  'papers',
  // What is made of them.
  'run',
  'publishing',
  'jobs',
  'web',
  'cli',
] as const;

/**
 * What the page in the browser may import from outside its own folder, beside types: files that
 * themselves import nothing that runs but files named here, so that nothing of the server comes along.
 */
export const sharedWithPage: readonly string[] = [
  'base/numbers.ts',
  'base/wording.ts',
  'geometry/paths/angle.ts',
  'program/record/run-record.ts',
  'web/api/packed-parts.ts',
];
