/**
 * The rooms of src/ in the order in which data flows through them. A room may import from the rooms
 * before it, and from none after it; test/order.test.ts reads every import line and fails on any other.
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
  // What the stages are used for.
  'run',
  'publishing',
  'jobs',
  // What the page changes.
  'drafting',
  'web',
  'cli',
] as const;

/**
 * The files outside its own folder from which the page in the browser may import more than types. They
 * import no code but that of files in this list, so that nothing of the server comes into the page.
 */
export const sharedWithPage: readonly string[] = [
  'base/numbers.ts',
  'base/findings.ts',
  'base/text-bounds.ts',
  'base/wording.ts',
  'geometry/paths/angle.ts',
  'pattern/words.ts',
  'handing/order-choices.ts',
  'papers/pictures/edge-weights.ts',
  'program/record/run-record.ts',
  'web/api/cut-steps.ts',
  'web/api/packed-parts.ts',
  'pattern/first-look/side-words.ts',
];
