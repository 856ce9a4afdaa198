import { describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../src/base/findings.ts';
import { Refusal } from '../../src/base/findings.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { checkSet } from '../../src/jobs/check.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import { cut } from '../../src/jobs/cut.ts';
import { deriveSet } from '../../src/jobs/derive.ts';
import { hole, on, points } from '../../patterns/fenlark/pen.ts';
import type { Files } from '../support/wren.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  redrawn,
  replaced,
  runFile,
  setFile,
  wren,
  wrenBlocks,
} from '../support/wren.ts';

/** What `check` finds on the Wren with these files. */
async function found(files: Files): Promise<Finding[]> {
  return inFolder(files, (root) => checkOf(root));
}

function checkOf(root: string): Finding[] {
  return checkSet(join(root, 'patterns/wren'), join(root, 'shared')).findings;
}

function ofRule(findings: readonly Finding[], rule: string): Finding[] {
  return findings.filter((one) => one.rule === rule);
}

/** The Wren with another text in its set file. */
function said(from: string, to: string, files: Files = wren): Files {
  return replaced(files, setFile, from, to);
}

/** The Wren without the lines of a role, on some or all of its pieces. */
function undrawn(roles: RegExp, pieces = /./): Files {
  const blocks = wrenBlocks().map(({ name, entities }) => ({
    name,
    entities: pieces.test(name) ? entities.filter(({ layer }) => !roles.test(layer)) : entities,
  }));
  return { ...wren, [drawingFile]: drawingText(blocks) };
}

describe('a guess that stands open', () => {
  const open = said(
    'mat: { side: pair,',
    'mat: { open: { side: nobody said, quantity: a note says 2 }, quantity: 2, side: pair,',
  );

  it('is an error with value, reason and place; the Wren has none', async () => {
    expect(ofRule(await found(wren), 'open-question')).toEqual([]);
    const [side, quantity, ...rest] = ofRule(await found(open), 'open-question');
    expect(rest).toEqual([]);
    expect(side).toMatchObject({ severity: 'error', where: { piece: 'mat', line: 9 } });
    expect(side!.message).toContain('"side: pair" is a guess on this piece: nobody said');
    expect(side!.todo).toContain('take "side" out of "open:"');
    expect(quantity!.message).toContain('"quantity: 2"');
  });

  it('keeps the set from being cut and derived, until its line is gone', async () => {
    await inFolder(open, async (root) => {
      const shared = join(root, 'shared');
      const request = { sharedFolder: shared, out: join(root, 'out/x'), force: false };
      await expect(cut({ ...request, runFile: join(root, runFile) })).rejects.toThrow(
        /"side: pair" is a guess/,
      );
      const options = { hand: 'LHD', heelPads: 'driver', boards: true, underlay: true } as const;
      const derive = (): unknown =>
        deriveSet({ ...request, setFolder: join(root, 'patterns/wren'), options, as: 'parts' });
      expect(derive).toThrow(Refusal);
    });
    const answered = said('mat: { side: pair,', 'mat: { open:, side: pair,');
    expect(ofRule(await found(answered), 'open-question')).toEqual([]);
  });

  it('on several pieces for the same reason is one finding with all of them', async () => {
    const guess = 'open: { side: nobody said }, side: centre,';
    const two = said(
      'dash: { side: centre,',
      `dash: { ${guess}`,
      said('floor: { side: centre,', `floor: { ${guess}`),
    );
    const [one, ...rest] = ofRule(await found(two), 'open-question');
    expect(rest).toEqual([]);
    expect(one!.message).toContain('on 2 pieces');
    expect(one!.message).toContain('floor (line 7), dash (line 8)');
    expect(one!.where.piece).toBeUndefined();
  });

  it('on the set is told with its value', async () => {
    const set = said('drawn: RHD', 'drawn: RHD\nopen: { drawn: nobody said which }');
    const [one] = ofRule(await found(set), 'open-question');
    expect(one!.message).toBe('"drawn: RHD" is a guess: nobody said which.');
    expect(one!.where).toMatchObject({ line: 3 });
  });

  it.each([
    ['a piece', 'mat: { side: pair,', 'mat: { open: { tilt: why }, side: pair,', 'this piece'],
    ['a set', 'drawn: RHD', 'drawn: RHD\nopen: { pile: why }', 'the set'],
  ])('about a key that %s does not have is an error of its own', async (_, from, to, owner) => {
    const findings = await found(said(from, to));
    expect(ofRule(findings, 'open-question')).toEqual([]);
    const [one] = ofRule(findings, 'open-names-nothing');
    expect(one).toMatchObject({ severity: 'error' });
    expect(one!.message).toContain(`${owner} has no such key`);
  });
});

describe('what follows from a side that is a guess', () => {
  // A hole for the driver on a piece that is fixed to the body must be decided.
  const undecided = said(', decided: a bolt of the seat', '');

  it('is told only once the side is answered', async () => {
    expect(ofRule(await found(undecided), 'not-decided').length).toBe(1);
    const guess = said(
      'cover: { side: left,',
      'cover: { open: { side: why }, side: left,',
      undecided,
    );
    const findings = await found(guess);
    expect(ofRule(findings, 'not-decided')).toEqual([]);
    expect(ofRule(findings, 'open-question').length).toBe(1);
  });
});

describe('a layer that says nothing', () => {
  const red = (entities: readonly Entity[]): Entity[] => [
    ...entities,
    ...on('RED', hole(300, 300, 40)),
    ...points('RED', [150, 500]),
  ];
  const files = redrawn('MAT', red);

  it('is one error with all that lies on it, and nothing else is hidden by it', async () => {
    expect(ofRule(await found(wren), 'unknown-layer')).toEqual([]);
    const [one, ...rest] = ofRule(await found(files), 'unknown-layer');
    expect(rest).toEqual([]);
    expect(one).toMatchObject({ severity: 'error', where: { piece: 'mat' } });
    // A hole of 40 mm radius, and a point.
    expect(one!.message).toContain('2 things');
    expect(one!.message).toContain('a closed line of 80 by 80 mm in mat at');
    expect(one!.message).toContain('a point in mat at 150, 500');
    expect(one!.todo).toContain('layers: { RED: ROLE }');
    // The piece could be read: what is wrong with it otherwise is found too.
    const both = await found(said('pad: rubber', 'pad: rubber, board: { material: none }', files));
    expect(both.map(({ rule }) => rule)).toContain('unknown-layer');
    expect(both.map(({ rule }) => rule)).toContain('unknown-name');
  });

  it('is answered by the set file, whatever the shop says', async () => {
    const only = redrawn('MAT', (entities) => [...entities, ...on('RED', hole(160, 500, 10))]);
    const shop = { ...only, 'shared/layers.yaml': 'red: NOTE\n' };
    const mapped = said('drawn: RHD', 'drawn: RHD\nlayers: { Red: CUTOUT }', shop);
    await inFolder(mapped, (root) => {
      const { patterns, findings } = checkSet(join(root, 'patterns/wren'), join(root, 'shared'));
      expect(ofRule(findings, 'unknown-layer')).toEqual([]);
      const mat = patterns.pieces.find(({ name }) => name === 'mat')!;
      expect(mat.features.filter(({ role }) => role === 'CUTOUT').length).toBe(1);
      // What is drawn anew is named for what it is, and must not be read by the customer's names.
      deriveSet({
        setFolder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        out: join(root, 'out/x'),
        options: { hand: 'LHD', heelPads: 'driver', boards: true, underlay: true },
        force: false,
        as: 'parts',
      });
      expect(readFileSync(join(root, 'out/x/set/set.yaml'), 'utf8')).not.toContain('layers');
    });
  });

  it('in several pieces is told once, with all of them', async () => {
    const blocks = wrenBlocks().map(({ name, entities }) => ({
      name,
      entities:
        name === 'FLOOR' || name === 'MAT'
          ? [...entities, ...on('BLUE', hole(300, 300, 8))]
          : entities,
    }));
    const findings = await found({ ...wren, [drawingFile]: drawingText(blocks) });
    const [one, ...rest] = ofRule(findings, 'unknown-layer');
    expect(rest).toEqual([]);
    expect(one!.message).toContain('in floor at');
    expect(one!.message).toContain('in mat at');
    expect(one!.where.piece).toBeUndefined();
  });
});

describe('what nobody has said', () => {
  it('is asked for at once: pile, edges, pads and materials', async () => {
    const bare = undrawn(/^(PILE|BOUND|SEAM|TUCK|RAW)/);
    const asked = said(
      ', edge: bound, pad: rubber',
      '',
      said('cover: { side: left, material: loop', 'cover: { side: left, material: felt', bare),
    );
    const findings = await found(asked);
    const of = (rule: string): string[] => ofRule(findings, rule).map(({ message }) => message);
    expect(of('edge-not-claimed')).toEqual([
      'nothing says what happens to the edge of 3 pieces: floor, dash, mat.',
    ]);
    // Nobody knows whether felt has a pile.
    expect(of('no-pile')).toEqual([
      'nothing says which way the pile runs on 4 pieces: floor, dash, mat, rest.',
    ]);
    expect(of('pad-material').length).toBe(1);
    expect(of('unknown-name')).toEqual([expect.stringContaining('"felt"')]);
  });

  it('on one piece is told on that piece', async () => {
    const findings = await found(undrawn(/^PILE/, /REST/));
    expect(ofRule(findings, 'no-pile')).toMatchObject([{ where: { piece: 'rest' } }]);
  });

  it('of an edge does not hide what else is wrong with the piece', async () => {
    const hidden = redrawn('MAT', (entities) => [
      ...entities,
      // Over the heel pad, which ends at 400.
      ...on('CUTOUT', hole(380, 300, 15)),
    ]);
    const findings = await found(said(', edge: bound, pad: rubber', ', pad: rubber', hidden));
    expect(ofRule(findings, 'edge-not-claimed').length).toBe(1);
    expect(ofRule(findings, 'pad-on-cutout').length).toBeGreaterThan(0);
  });

  it('is asked of a piece with another error too', async () => {
    const faulty = redrawn('REST', (entities) => [
      ...entities.filter(({ layer }) => layer !== 'PILE'),
      ...on('HOLE', hole(900, 900, 10)),
    ]);
    const findings = await found(faulty);
    expect(ofRule(findings, 'feature-outside').length).toBe(1);
    expect(ofRule(findings, 'no-pile')).toMatchObject([{ where: { piece: 'rest' } }]);
  });

  it('a piece of which no part can be made does not hide the others', async () => {
    const inset = said('inset: 2', 'inset: 190', said(', covered: the wing', ''));
    const findings = await found(inset);
    expect(findings.some(({ where }) => where.piece === 'rest')).toBe(true);
    expect(ofRule(findings, 'raw-on-show')).toMatchObject([{ where: { piece: 'cover' } }]);
  });
});

describe('a pile that is only said', () => {
  const stated = said('drawn: RHD', 'drawn: RHD\npile: rearward', undrawn(/^PILE/));
  const noPile = async (files: Files): Promise<string[]> =>
    ofRule(await found(files), 'no-pile').map(({ message }) => message);

  it('holds for a piece with a centreline or a place, and is asked for elsewhere', async () => {
    // Floor and dash have their AXIS.
    expect(await noPile(stated)).toEqual([
      'nothing says which way the pile runs on 3 pieces: mat, rest, cover.',
    ]);
    const placed = said('cover: { side: left,', 'cover: { at: [0, 0], side: left,', stated);
    expect(await noPile(placed)).toEqual([
      'nothing says which way the pile runs on 2 pieces: mat, rest.',
    ]);
  });

  it.each([
    ['a slanting centreline', [-50, -50], [50, 50], 225],
    ['an upright one', [0, -50], [0, 50], 270],
  ] as const)('is turned as the block is, by %s', async (_, from, to, deg) => {
    const blocks = wrenBlocks().map(({ name, entities }) => ({
      name,
      entities: entities
        .filter(({ layer }) => layer !== 'PILE')
        .map((one) =>
          one.layer === 'AXIS' && one.kind === 'path'
            ? {
                ...one,
                path: {
                  closed: false,
                  vertices: [from, to].map(([x, y]) => ({ x, y, bulge: 0 })),
                },
              }
            : one,
        ),
    }));
    const files = said('drawn: RHD', 'drawn: RHD\npile: rearward', {
      ...wren,
      [drawingFile]: drawingText(blocks),
    });
    await inFolder(files, (root) => {
      const { patterns } = checkSet(join(root, 'patterns/wren'), join(root, 'shared'));
      const { from: tail, to: head } = patterns.pieces.find(({ name }) => name === 'floor')!.pile!;
      const heading = (Math.atan2(head.y - tail.y, head.x - tail.x) * 180) / Math.PI;
      expect((heading + 360) % 360).toBeCloseTo(deg, 6);
    });
  });

  it('gives the same parts as a drawn one', async () => {
    const parts = async (files: Files): Promise<unknown> =>
      inFolder(files, (root) => {
        const { parts: made } = deriveSet({
          setFolder: join(root, 'patterns/wren'),
          sharedFolder: join(root, 'shared'),
          out: join(root, 'out/x'),
          options: { hand: 'LHD', heelPads: 'driver', boards: true, underlay: true },
          force: false,
          as: 'parts',
        });
        return made.map(({ label, pileDeg }) => [label, pileDeg]);
      });
    const all = ['mat: { side: pair,', 'rest: { side: driver,', 'cover: { side: left,'].reduce(
      (files, from) => said(from, from.replace('{ ', '{ at: [0, 0], '), files),
      stated,
    );
    expect(await parts(all)).toEqual(await parts(wren));
  });

  it('holds for all pieces if the set says that they are drawn in their places', async () => {
    const placed = said('drawn: RHD', 'drawn: RHD\nat: [0, 0]', stated);
    expect(await noPile(placed)).toEqual([]);
  });
});

describe('what a set says for all its pieces', () => {
  const places = async (files: Files): Promise<unknown> =>
    inFolder(files, (root) => {
      const { patterns } = checkSet(join(root, 'patterns/wren'), join(root, 'shared'));
      return patterns.pieces.map(({ name, entry }) => [name, entry.at, entry.edge]);
    });

  it('holds for each that does not say it', async () => {
    const all = said('drawn: RHD', 'drawn: RHD\nat: [0, 50]\nedge: tuck');
    const files = said('rest: { side: driver,', 'rest: { at: [7, 0], side: driver,', all);
    expect(await places(files)).toEqual([
      ['floor', [0, 50], 'tuck'],
      ['dash', [0, 50], 'tuck'],
      ['mat', [0, 50], 'bound'],
      ['rest', [7, 0], 'bound'],
      ['cover', [0, 50], 'raw'],
    ]);
  });

  it('is asked of no piece, and is gone from a set that was drawn anew in its place', async () => {
    const untold = said(', edge: bound, pad: rubber', ', pad: rubber');
    expect(ofRule(await found(untold), 'edge-not-claimed').length).toBe(1);
    const all = said('drawn: RHD', 'drawn: RHD\nat: [0, 50]\nedge: bound', untold);
    expect(ofRule(await found(all), 'edge-not-claimed')).toEqual([]);
    await inFolder(all, (root) => {
      const request = {
        setFolder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        options: { hand: 'RHD', heelPads: 'driver', boards: true, underlay: true },
        force: false,
        as: 'parts',
      } as const;
      const { parts } = deriveSet({ ...request, out: join(root, 'out/x') });
      const again = deriveSet({
        ...request,
        setFolder: join(root, 'out/x/set'),
        out: join(root, 'out/y'),
      });
      expect(again.parts.map(({ net }) => boxOfPath(net))).toEqual(
        parts.map(({ net }) => boxOfPath(net)),
      );
    });
  });
});
