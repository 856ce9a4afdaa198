import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { Refusal } from '../../src/base/findings.ts';
import type { Job } from '../../src/run/job.ts';
import { readJob } from '../../src/run/job.ts';
import { mixedRun } from '../support/mixed.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, replaced, runFile, setFile } from '../support/wren.ts';

function jobOf(files: Files): Promise<Job> {
  return inFolder(files, (root) => readJob(join(root, runFile), join(root, 'shared')));
}

/** The errors for which a run is refused. */
async function refusals(files: Files): Promise<readonly Finding[]> {
  const refused = await jobOf(files).then(
    () => null,
    (error: unknown) => error,
  );
  if (!(refused instanceof Refusal)) throw new Error('it is not refused');
  return refused.findings;
}

const sand = 'order: A, set: wren, hand: RHD, carpet: { colour: sand }, pad: { colour: black }';

describe('an order that asks for what there is not is refused, with the place in the run file', () => {
  it.each<[what: string, order: string, message: RegExp, todo: RegExp]>([
    [
      'no colour',
      'order: A, set: wren, hand: RHD, pad: { colour: black }',
      /"A" does not say the colour of its carpet, and carpet for tests is kept in several/,
      /Add "carpet: \{ colour: ... \}". Colours: sand, claret/,
    ],
    [
      'a colour that is not kept',
      `${sand.replace('sand', 'teal')}`,
      /wants its carpet in teal, and carpet for tests is not kept in it/,
      /Colours: sand, claret/,
    ],
    [
      'a colour of another material',
      'order: A, set: wren, hand: RHD, carpet: { material: plush, colour: sand }, pad: { colour: black }',
      /wants its carpet in sand, and plush for tests is not kept in it/,
      /Colours: claret, navy/,
    ],
    [
      'a colour of what is kept in none',
      `${sand}, board: { colour: white }`,
      /wants its board in white, and board for tests is kept in no colours/,
      /add it under "colours" in shared\/materials\/board.yaml/,
    ],
    [
      'a material that is not there',
      'order: A, set: wren, hand: RHD, carpet: { material: wool }, pad: { colour: black }',
      /chooses wool for its carpet, and there is no such material/,
      /There are: board, loop, plush, rubber/,
    ],
    [
      'a material of another kind',
      'order: A, set: wren, hand: RHD, carpet: { material: rubber, colour: grey }, pad: { colour: black }',
      /chooses rubber for tests for its carpet, and that is rubber/,
      /./,
    ],
    [
      'a choice that the set does not give',
      `${sand}, board: { material: board }`,
      /chooses board for its board, and the set does not let it choose/,
      /uses: \{ board:/,
    ],
    [
      'a finish that is not there',
      `${sand}, edge: { finish: fringe }`,
      /wants its edges finished with "fringe"/,
      /There are: leather, tape/,
    ],
    [
      'a colour in which the finish is not kept',
      `${sand}, edge: { finish: leather, colour: blue }`,
      /bound in blue, and tape is not kept in it/,
      /Colours: red/,
    ],
    [
      'the colour of the edge twice',
      `${sand}, binding: red, edge: { colour: red }`,
      /it says what "binding" says too/,
      /./,
    ],
    [
      'a piece that is not there',
      `${sand}, alone: [hood]`,
      /names "hood", and no part/,
      /front, floor/,
    ],
    [
      'a word of the language',
      `${sand}, alone: [constructor]`,
      /names "constructor", and no part/,
      /front/,
    ],
    [
      'a side that a piece has not',
      `${sand}, without: [mat, floor-left]`,
      /names "floor-left", and no part/,
      /-left or -right behind it/,
    ],
    [
      'nothing at all',
      `${sand}, without: [floor, dash, mat, rest, cover]`,
      /wants no part at all/,
      /"without"/,
    ],
    ['nothing, by an empty list', `${sand}, alone: []`, /"orders.0.alone" is too short/, /./],
    [
      'an option that is not there',
      `${sand}, options: { sunroof: true }`,
      /no such option/,
      /none/,
    ],
    ['a day that is none', `${sand}, due: 2026-02-30`, /a day is written like 2026-12-04/, /./],
    ['a note of a novel', `${sand}, benchNote: ${'x'.repeat(601)}`, /at most 600 letters/, /./],
  ])('%s', async (_, order, message, todo) => {
    const found = await refusals(mixedRun([`{ ${order} }`]));
    expect(found.map((one) => one.message)).toContainEqual(expect.stringMatching(message));
    expect(found.map((one) => one.todo).join(' ')).toMatch(todo);
    expect(found[0]!.where).toMatchObject({ line: 5 });
    expect(found[0]!.where.file).toMatch(/wren-week.yaml$/);
  });

  it('all orders at once', async () => {
    const found = await refusals(
      mixedRun([
        `{ ${sand.replace('sand', 'teal')} }`,
        `{ ${sand.replace('order: A', 'order: B').replace('black', 'pink')} }`,
      ]),
    );
    expect(found.map(({ where }) => where.line)).toEqual([5, 6]);
  });
});

describe('a roll that no order is cut from is refused', () => {
  it.each([
    [
      'in a colour that nobody ordered',
      '{ loop: { colour: claret } }',
      /no order wants it in that/,
    ],
    ['without its colour', '{ loop: { length: 9000 } }', /and not its colour/],
    ['in a colour that is none', '{ board: { colour: white } }', /is kept in no colours/],
    ['of a material that nobody ordered', '{ plush: { colour: navy } }', /no piece is cut from it/],
    [
      'twice',
      '{ loop: [{ colour: sand, name: a }, { colour: sand, name: A }] }',
      /two rolls of loop/,
    ],
  ])('%s', async (_, rolls, message) => {
    const found = await refusals(mixedRun([`{ ${sand} }`], rolls));
    expect(found.map((one) => one.message).join(' ')).toMatch(message);
  });
});

describe('a set file that does not fit is refused', () => {
  const [from, to] = [
    'uses: { carpet: loop, pad: rubber }',
    'groups: { front: [dash, mat-right] }',
  ];
  it.each([
    [
      'a use that no piece names',
      from,
      'uses: { carpet: loop, pad: rubber, underlay: felt }',
      /no piece names that use/,
    ],
    ['a use without its material', from, 'uses: { carpet: loop }', /does not say what that is/],
    [
      'a group of nothing',
      to,
      'groups: { front: [hood] }',
      /names "hood", and no piece is called so/,
    ],
    ['a group called as a piece', to, 'groups: { mat: [dash] }', /"mat" is a group and a piece/],
  ])('%s', async (_, before, after, message) => {
    const found = await refusals(replaced(mixedRun([`{ ${sand} }`]), setFile, before, after));
    expect(found.map((one) => one.message).join(' ')).toMatch(message);
  });
});

describe('what is cut', () => {
  it('is of the cloths that are ordered, each material in the order of its colours', async () => {
    const { cloths } = await jobOf(
      mixedRun([
        '{ order: A, set: wren, hand: RHD, carpet: { material: plush, colour: navy }, pad: { colour: grey } }',
        '{ order: B, set: wren, hand: LHD, carpet: { material: plush, colour: claret }, pad: { colour: grey } }',
        `{ ${sand.replace('order: A', 'order: C')} }`,
      ]),
    );
    expect(cloths.map(({ material, colour = '' }) => `${material.name} ${colour}`.trim())).toEqual([
      'loop sand',
      'plush claret',
      'plush navy',
      'board',
      'rubber black',
      'rubber grey',
    ]);
  });

  it('warns of a choice for a use of which nothing is wanted', async () => {
    const { findings } = await jobOf(mixedRun([`{ ${sand}, heelPads: none }`]));
    expect(findings.filter(({ rule }) => rule === 'choice-idle')).toHaveLength(1);
  });

  it('is not what other sides and groups are called', async () => {
    const { parts } = await jobOf(
      mixedRun([`{ ${sand}, alone: [front, mat-left], without: [dash] }`]),
    );
    expect(parts.map(({ name }) => name).toSorted()).toEqual([
      'mat-left',
      'mat-pad-right',
      'mat-right',
    ]);
  });

  it('has one colour where its material is kept in one alone', async () => {
    const files = mixedRun([
      `{ ${sand.replace('pad: { colour: black }', '')} }`.replace(',  }', ' }'),
    ]);
    const black = replaced(files, 'shared/materials/rubber.yaml', /  grey:.*\n/, '');
    const { parts } = await jobOf(black);
    expect(new Set(parts.filter(({ kind }) => kind === 'pad').map(({ colour }) => colour))).toEqual(
      new Set(['black']),
    );
  });
});
