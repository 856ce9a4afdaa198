import { describe, expect, it } from 'vitest';
import type { EdgeDraft } from '../../../src/drafting/edges/drawn-traces.ts';
import type { EdgeAnswer } from '../../../src/drafting/edges/planned-traces.ts';
import { renameEdge } from '../../../src/drafting/edges/rename-edge.ts';
import { stretchesOf } from '../../../src/drafting/edges/stretches.ts';
import type { EdgesGiven } from '../../../src/drafting/edges/with-edge-kind.ts';
import { withEdgeKind } from '../../../src/drafting/edges/with-edge-kind.ts';
import type { Entity, TextEntity } from '../../../src/drawing/drawing.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import type { PieceEntry } from '../../../src/pattern/set-file.ts';
import { line, oblong } from '../../handing/fixtures.ts';
import { draftOf, onLayer, readAgain, readKinds } from './drafts.ts';

// 400 x 300 round the origin, counter-clockwise from its rear left corner.
const plain = oblong(0, 0, 400, 300);

/** The draft after some answers one after another, and what the last one gave. */
function after(
  start: EdgeDraft,
  ...answers: readonly EdgeAnswer[]
): { draft: EdgeDraft; last: EdgesGiven } {
  let draft = start;
  let last: EdgesGiven | undefined;
  for (const answer of answers) {
    last = withEdgeKind(draft, answer);
    draft = readAgain(draft, last.entities);
  }
  return { draft, last: last! };
}

function bare(entry: Partial<PieceEntry> = {}, path = plain): EdgeDraft {
  return draftOf([onLayer('OUTLINE', path)], entry);
}

/** `KIND name from-to` of each line, in the order of the drawing. */
function linesOf({ entities }: EdgeDraft | EdgesGiven): string[] {
  return entities.flatMap((entity) => {
    if (entity.kind !== 'path' || entity.layer === 'OUTLINE') return [];
    const words = entity.path.vertices.map(({ x, y }) => `${x},${y}`);
    return [`${entity.layer} ${words.join(' ')}`];
  });
}

function textsOf({ entities }: Pick<EdgesGiven, 'entities'>): TextEntity[] {
  return entities.filter((entity) => entity.kind === 'text');
}

describe('withEdgeKind', () => {
  it('draws a line on the layer of the kind, exactly along the outline, and its name beside its middle', () => {
    const { last } = after(bare(), { from: 1000, to: 100, kind: 'seam', name: 'wall' });
    expect(linesOf(last)).toEqual(['SEAM 100,300 0,300 0,0 100,0']);
    const [text] = textsOf(last);
    expect([text!.layer, text!.text]).toEqual(['SEAM', 'wall']);
    // The middle is (0, 150); outside is to the left, and the text runs along the edge.
    expect(text!.at.x).toBeLessThan(0);
    expect(text!.at.x).toBeGreaterThan(-30);
    expect(Math.abs(text!.at.y - 150)).toBeLessThan(45);
    expect(text!.deg).toBe(90);
  });

  it('keeps arcs arcs, and bends exactly as the outline does', () => {
    const bent: Path = {
      closed: true,
      vertices: plain.vertices.map((vertex, i) => ({ ...vertex, bulge: i === 0 ? 0.2 : 0 })),
    };
    const draft = bare({}, bent);
    const round = stretchesOf(draft);
    const { from, to } = round.stretches[0]!;
    const { last } = after(draft, { from, to, kind: 'bound', name: 'rear' });
    const made = last.entities.find(({ layer, kind }) => layer === 'BOUND' && kind === 'path');
    expect(made).toEqual(
      onLayerNew('BOUND', {
        closed: false,
        vertices: [
          { x: 0, y: 0, bulge: 0.2 },
          { x: 400, y: 0, bulge: 0 },
        ],
      }),
    );
  });

  it('traces the whole outline as one closed line', () => {
    const { draft, last } = after(bare(), { from: 0, to: 0, kind: 'bound' });
    expect(last.entities[1]).toEqual(onLayerNew('BOUND', plain));
    expect(last.name).toBe('edge');
    expect(readKinds(draft).rules).toEqual([]);
    const { draft: less } = after(draft, { from: 400, to: 700, kind: 'seam', name: 'side' });
    expect(linesOf(less)).toEqual(['BOUND 400,300 0,300 0,0 400,0', 'SEAM 400,0 400,300']);
  });

  it('makes one line with neighbours of the same kind and name, and two with another name', () => {
    const first: EdgeAnswer = { from: 0, to: 400, kind: 'bound', name: 'rear' };
    const same = after(bare(), first, { from: 400, to: 700, kind: 'bound', name: 'rear' });
    expect(linesOf(same.draft)).toEqual(['BOUND 0,0 400,0 400,300']);
    expect(textsOf(same.draft).map(({ text }) => text)).toEqual(['rear']);
    const other = after(bare(), first, { from: 400, to: 700, kind: 'bound', name: 'right' });
    expect(linesOf(other.draft)).toHaveLength(2);
    const both = after(other.draft, { from: 0, to: 700, kind: 'bound', name: 'rear' });
    expect(linesOf(both.draft)).toEqual(['BOUND 0,0 400,0 400,300']);
    expect(both.last.gone).toEqual(['right']);
    const kind = after(bare(), first, { from: 400, to: 700, kind: 'raw', name: 'rear' });
    expect(linesOf(kind.draft)).toHaveLength(2);
  });

  it('goes on under the name that lies there, if no name is given', () => {
    const { draft, last } = after(
      bare(),
      { from: 0, to: 300, kind: 'seam', name: 'toe' },
      { from: 200, to: 400, kind: 'seam' },
    );
    expect(last.name).toBe('toe');
    expect(linesOf(draft)).toEqual(['SEAM 0,0 400,0']);
    const inside = withEdgeKind(draft, { from: 100, to: 200, kind: 'seam' });
    expect(inside.entities).toBe(draft.entities);
  });

  it('gives the longer part of a line that is split its name, and the other the next free one', () => {
    const { draft, last } = after(
      bare(),
      { from: 0, to: 700, kind: 'tuck', name: 'sill' },
      { from: 200, to: 300, kind: 'raw', name: 'gap' },
    );
    expect(last.split).toEqual([{ name: 'sill', also: 'sill-2' }]);
    const named = draft.piece.features.map(({ name, path }) => [name, path.vertices[0]!.x]);
    expect(named).toEqual([
      ['sill', 300],
      ['sill-2', 0],
      ['gap', 200],
    ]);
    expect(readKinds(draft).rules).toEqual([]);
  });

  it('takes away what was said, with its name', () => {
    const { draft, last } = after(
      bare(),
      { from: 0, to: 400, kind: 'seam', name: 'rear' },
      { from: 0, to: 400, kind: null },
    );
    expect(last.gone).toEqual(['rear']);
    expect(draft.entities).toEqual([onLayer('OUTLINE', plain)]);
  });

  it('takes ends within a millimetre of a corner or of another line to it', () => {
    const { draft } = after(
      bare(),
      { from: 0.8, to: 200, kind: 'bound', name: 'one' },
      { from: 200.7, to: 399.1, kind: 'raw', name: 'two' },
    );
    expect(linesOf(draft)).toEqual(['BOUND 0,0 200,0', 'RAW 200,0 400,0']);
  });

  it.each([
    [{ from: 100, to: 104.9, kind: 'seam' }, 'stretch-short'],
    [{ from: 0.5, to: 0.9, kind: 'seam' }, 'stretch-short'],
    [{ from: 0, to: 400, kind: 'seam', name: 'Toe board' }, 'edge-word'],
  ] as const)('refuses %j', (answer, rule) => {
    const draft = bare();
    const { findings, entities } = withEdgeKind(draft, answer);
    expect(findings.map((one) => [one.severity, one.rule])).toEqual([['error', rule]]);
    expect(entities).toBe(draft.entities);
  });

  // A strip of 8 mm: the other side is as near to a text as the own one, unless it stands close to it.
  it('names edges that lie close to each other, each by its own text', () => {
    const strip = oblong(0, 0, 400, 8);
    const { draft } = after(
      bare({}, strip),
      { from: 0, to: 400, kind: 'bound', name: 'rear' },
      { from: 408, to: 808, kind: 'bound', name: 'front' },
      { from: 400, to: 408, kind: 'bound', name: 'right' },
    );
    expect(draft.piece.features.map(({ name }) => name)).toEqual(['rear', 'front', 'right']);
    expect(readKinds(draft).rules).toEqual([]);
  });

  it('moves a name that would be read for the new line, and nothing else', () => {
    const start = draftOf([
      onLayer('OUTLINE', oblong(0, 0, 400, 30)),
      onLayer('SEAM', line(0, 0, 400, 0)),
      // Nearer to the front edge than to the rear one that it names: none is traced there yet.
      {
        kind: 'text',
        layer: 'SEAM',
        line: 8,
        at: { x: 200, y: 40 },
        text: 'Rear',
        height: 10,
        deg: 0,
      },
      {
        kind: 'text',
        layer: 'NOTE',
        line: 8,
        at: { x: 200, y: 15 },
        text: 'MAT',
        height: 10,
        deg: 0,
      },
    ]);
    expect(start.piece.features[0]!.name).toBe('rear');
    const { draft } = after(start, { from: 430, to: 830, kind: 'seam', name: 'front' });
    expect(draft.piece.features.map(({ name }) => name)).toEqual(['rear', 'front']);
    expect(textsOf(draft).map(({ text }) => text)).toEqual(['Rear', 'MAT', 'front']);
    expect(draft.entities[1]).toBe(start.entities[1]);
    expect(draft.entities[3]).toBe(start.entities[3]);
  });

  it('leaves lines alone that go with an option or follow somebody, and draws nothing over them', () => {
    const special: Entity[] = [
      onLayer('SEAM-WITH-TABLE', line(100, 0, 200, 0)),
      onLayer('BOUND-DRIVER', line(250, 0, 300, 0)),
    ];
    const draft = draftOf([onLayer('OUTLINE', plain), ...special], { edge: 'raw' });
    const given = withEdgeKind(draft, { from: 0, to: 400, kind: 'tuck', name: 'sill' });
    expect(linesOf(given)).toEqual([
      'SEAM-WITH-TABLE 100,0 200,0',
      'BOUND-DRIVER 250,0 300,0',
      'TUCK 0,0 100,0',
      'TUCK 300,0 400,0',
      'TUCK 200,0 250,0',
    ]);
    expect(given.untouched).toEqual([
      { from: 100, to: 200, layer: 'SEAM-WITH-TABLE' },
      { from: 250, to: 300, layer: 'BOUND-DRIVER' },
    ]);
    expect(given.findings.map(({ severity, rule }) => [severity, rule])).toEqual([
      ['warning', 'stretch-optional'],
    ]);
    expect(textsOf(given).map(({ text }) => text)).toEqual(['sill', 'sill-2', 'sill-3']);
    expect(readKinds(readAgain(draft, given.entities)).rules).toEqual([]);
  });

  it('keeps the line, its layer and its place where only the name is new', () => {
    const seam = onLayer('SEAM', line(400, 0, 0, 0));
    const draft = draftOf([onLayer('OUTLINE', plain), seam, onLayer('MARK', line(50, 50, 90, 90))]);
    const given = withEdgeKind(draft, { from: 0, to: 400, kind: 'seam', name: 'rear' });
    expect(given.entities.slice(0, 3)).toEqual(draft.entities);
    expect(given.entities[1]).toBe(seam);
    expect(textsOf(given).map(({ text }) => text)).toEqual(['rear']);
  });

  it('takes out a line that was drawn twice with the one that it repeats', () => {
    const seam = onLayer('SEAM', line(0, 0, 400, 0));
    const draft = draftOf([onLayer('OUTLINE', plain), seam, { ...seam, line: 9 }]);
    const given = withEdgeKind(draft, { from: 0, to: 400, kind: 'bound', name: 'rear' });
    expect(linesOf(given)).toEqual(['BOUND 0,0 400,0']);
    const text: Entity = {
      kind: 'text',
      layer: 'SEAM',
      line: 8,
      at: { x: 200, y: -9 },
      text: 'toe',
      height: 10,
      deg: 0,
    };
    const named = readAgain(draft, [...draft.entities, text]);
    const longer = withEdgeKind(named, { from: 400, to: 700, kind: 'seam', name: 'toe' });
    expect(linesOf(longer)).toEqual(['SEAM 0,0 400,0 400,300']);
  });
});

describe('the names that the desk gives', () => {
  const names = (entry: Partial<PieceEntry>): string[] => {
    let draft = bare(entry);
    const { stretches } = stretchesOf(draft);
    return stretches.map(({ from, to }) => {
      const given = withEdgeKind(draft, { from, to, kind: 'bound' });
      draft = readAgain(draft, given.entities);
      return given.name!;
    });
  };

  it('say where the edge lies on the piece', () => {
    expect(names({ side: 'left' })).toEqual(['rear', 'right', 'front', 'left']);
  });

  it('say inner and outer of what lies on both sides', () => {
    expect(names({ side: 'pair', drawnSide: 'right' })).toEqual([
      'rear',
      'outer',
      'front',
      'inner',
    ]);
    expect(names({ side: 'pair', drawnSide: 'left' })).toEqual(['rear', 'inner', 'front', 'outer']);
  });

  it('follow the vehicle where an AXIS says how the piece lies in it', () => {
    // The front of the vehicle is at the left of the drawing: an axis that is drawn level points as drawn.
    const axis = onLayer('AXIS', line(400, 150, 0, 150));
    let draft = draftOf([onLayer('OUTLINE', plain), axis], { side: 'centre' });
    const given = withEdgeKind(draft, { from: 1100, to: 0, kind: 'seam' });
    expect(given.name).toBe('front');
  });

  it('count on where a name is taken', () => {
    const { last } = after(
      bare(),
      { from: 0, to: 200, kind: 'bound', name: 'rear' },
      { from: 160, to: 240, kind: 'seam' },
    );
    expect(last.name).toBe('rear-2');
  });
});

describe('withEdgeKind on a piece that is drawn half', () => {
  const half = polyline(
    [
      { x: 0, y: 0 },
      { x: 400, y: 0 },
      { x: 400, y: 300 },
      { x: 0, y: 300 },
    ],
    false,
  );
  const start = draftOf([onLayer('OUTLINE', half), onLayer('AXIS', line(0, 0, 0, 100))], {
    side: 'centre',
    half: true,
    edge: 'raw',
  });

  it.each([
    ['drawn', { x: 400, y: 150 }],
    ['other', { x: -400, y: 150 }],
  ])('says of both halves what is said of the %s one, and draws it on the drawn one', (_, side) => {
    const { stretches } = stretchesOf(start);
    const own = stretches.find(({ path }) => path.vertices.every(({ x }) => x === side.x))!;
    const { draft, last } = after(start, {
      from: own.from,
      to: own.to,
      kind: 'seam',
      name: 'side',
    });
    expect(linesOf(last).slice(1)).toEqual(['SEAM 400,0 400,300']);
    expect(draft.piece.features.map(({ name }) => name)).toEqual(['side', 'side']);
    const kinds = stretchesOf(draft).stretches.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'seam')).toHaveLength(2);
    expect(readKinds(draft).rules).toEqual([]);
  });

  it('ends a line on the mirror line where it goes across it', () => {
    const { stretches } = stretchesOf(start);
    const front = stretches.find(({ path }) => path.vertices.every(({ y }) => y === 300))!;
    expect(front.length).toBe(800);
    const { draft, last } = after(start, {
      from: front.from,
      to: front.to,
      kind: 'tuck',
      name: 'front',
    });
    expect(linesOf(last).slice(1)).toEqual(['TUCK 400,300 0,300']);
    const tuck = stretchesOf(draft).stretches.find(({ kind }) => kind === 'tuck');
    expect([tuck!.length, tuck!.name]).toEqual([800, 'front']);
    expect(withEdgeKind(draft, { from: front.from, to: front.to, kind: 'tuck' }).entities).toBe(
      draft.entities,
    );
  });
});

describe('renameEdge', () => {
  const { draft } = after(
    bare(),
    { from: 0, to: 400, kind: 'seam', name: 'rear' },
    { from: 400, to: 700, kind: 'seam', name: 'side' },
  );

  const content = {
    pieces: { mat: { covered: { rear: 'the sill' } } },
    seams: [{ join: ['mat/rear', 'dash'] as [string, string] }],
  };

  it('changes the text alone, and says where the set file names the edge', () => {
    const { entities, references, findings } = renameEdge(draft, content, 'rear', 'toe');
    expect(findings).toEqual([]);
    expect(readAgain(draft, entities).piece.features.map(({ name }) => name)).toEqual([
      'toe',
      'side',
    ]);
    expect(entities.filter((one, i) => one !== draft.entities[i])).toHaveLength(1);
    expect(references.map(({ way }) => way.join('.'))).toEqual([
      'seams.0.join.0',
      'pieces.mat.covered.rear',
    ]);
  });

  it('renames all edges of that name, which a seam means together', () => {
    const lines = [
      onLayer('OUTLINE', plain),
      onLayer('SEAM', line(0, 0, 0, 300)),
      onLayer('SEAM-WITH-TABLE', line(400, 0, 400, 300)),
    ];
    const texts = [0, 400].map((x, i): Entity => ({
      kind: 'text',
      layer: i === 0 ? 'SEAM' : 'SEAM-WITH-TABLE',
      line: 8,
      at: { x, y: 100 },
      text: 'box',
      height: 10,
      deg: 0,
    }));
    const both = draftOf([...lines, ...texts], { edge: 'raw' }, new Map([['table', true]]));
    const { entities } = renameEdge(both, content, 'box', 'wall');
    expect(readAgain(both, entities).piece.features.map(({ name }) => name)).toEqual([
      'wall',
      'wall',
    ]);
  });

  it.each([
    ['none', 'toe'],
    ['rear', 'side'],
    ['rear', 'Toe'],
  ])('refuses %s to %s', (edge, name) => {
    const { entities, findings } = renameEdge(draft, content, edge, name);
    expect(findings.map(({ rule }) => rule)).toEqual(['edge-word']);
    expect(entities).toBe(draft.entities);
  });
});

function onLayerNew(layer: string, path: Path): Entity {
  return { kind: 'path', layer, line: 0, path };
}
