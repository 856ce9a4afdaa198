/**
 * The stages in the order in which data flows through them. A stage may import the ones before it
 * and nothing after it; test/order.test.ts reads every import line and holds the code to that.
 * `cut.ts`, `run.ts` and the faces (cli, web) stand after the last stage.
 */
export const stages = [
  'geometry',
  'drawing',
  'pattern',
  'handing',
  'lay',
  'knife',
  'program',
  'papers',
  'compare',
] as const;

/** Files at the top of src/ that every stage may use. */
export const foundations = ['findings.ts', 'yaml.ts', 'named-file.ts', 'numbers.ts'] as const;
