/** Drawings as people draw them become sets without a stroke of work in the drawing. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import type { Finding } from '../../src/base/findings.ts';
import { checkSet } from '../../src/jobs/check.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Tag } from '../drawing/dxf.ts';
import { dxf, inMm, line, lwpolyline, onLayer, text } from '../drawing/dxf.ts';
import { checkedAfter, imported, rectangle } from '../support/imported.ts';

interface Answers {
  readonly layers?: Record<string, string>;
  readonly seams?: readonly unknown[];
  readonly more?: Record<string, unknown>;
}

/** The set made of a drawing, with all open questions answered as guessed, checked. */
async function answered(
  entities: readonly (readonly Tag[])[],
  { layers = {}, seams = [], more = {} }: Answers = {},
): Promise<{ findings: Finding[]; pieces: readonly Piece[]; asked: readonly Finding[] }> {
  return imported(dxf({ header: inMm, entities }), ({ findings: asked }, root) => {
    const folder = join(root, 'patterns/customer');
    const file = join(folder, 'set.yaml');
    const document = parseDocument(readFileSync(file, 'utf8'));
    document.delete('open');
    document.set('layers', { ...(document.toJS() as { layers?: object }).layers, ...layers });
    document.set('seams', seams);
    document.set('front', 'top');
    const { pieces } = document.toJS() as { pieces: Record<string, object> };
    for (const name of Object.keys(pieces)) {
      document.deleteIn(['pieces', name, 'open']);
      document.setIn(['pieces', name, 'material'], 'loop');
      document.setIn(['pieces', name, 'edge'], 'tuck');
      document.setIn(['pieces', name, 'decided'], 'all of it');
      for (const [key, value] of Object.entries(more)) document.setIn(['pieces', name, key], value);
    }
    writeFileSync(file, document.toString());
    const { findings, patterns } = checkSet(folder, join(root, 'shared'));
    return { findings, pieces: patterns.pieces, asked };
  });
}

const open = (layer: string, ...corners: [number, number][]): Tag[] =>
  onLayer(
    lwpolyline(
      corners.map(([x, y]) => [x, y, 0] as const),
      false,
    ),
    layer,
  );

const floor = [rectangle(0, 0, 600, 400, 'OUTLINE'), text('FLOOR', 200, 200, 20)];

function rolesOf(pieces: readonly Piece[]): string[] {
  return pieces.flatMap(({ features }) => features.map(({ role }) => role)).sort();
}

describe('notches', () => {
  it('that begin a hair outside or short of the outline, on a layer of the customer’s, need nothing', async () => {
    const { findings, pieces, asked } = await answered(
      [
        ...floor,
        line(100, -0.003, 100, 6, 'KERB'),
        line(200, -0.05, 200, 6, 'KERB'),
        line(300, -0.9, 300, 6, 'KERB'),
        line(400, 0.9, 400, 6, 'KERB'),
        line(600.05, 100, 594, 100, 'KERB'),
      ],
      { layers: { KERB: 'NOTCH' } },
    );
    expect(asked.map(({ message }) => message)).toEqual([
      expect.stringContaining('Probably NOTCH: short lines at the edge.'),
    ]);
    expect(rolesOf(pieces)).toEqual(Array(5).fill('NOTCH'));
    expect(findings.map(({ rule, severity }) => [rule, severity])).toEqual([['snapped', 'note']]);
  });

  it('drawn as a V, a tick and a T are one slit each, and one note says so', async () => {
    const { findings, pieces } = await answered([
      ...floor,
      open('NOTCH', [97, 0], [100, 5], [103, 0]),
      line(197, -0.05, 200, 5, 'NOTCH'),
      line(203, -0.05, 200, 5, 'NOTCH'),
      line(300, -6, 300, 6, 'NOTCH'),
      line(400, 0, 400, 6, 'NOTCH'),
      line(397, 6, 403, 6, 'NOTCH'),
    ]);
    expect(findings.map(({ rule }) => rule)).toEqual(['notch-drawn-as']);
    expect(findings[0]!.message).toContain('4 notches are no plain line or point: 2 drawn as a V');
    const places = pieces[0]!.features.map(({ path }) => Math.round(path.vertices[0]!.x));
    expect(places.sort()).toEqual([100, 200, 300, 400]);
  });

  it('that nobody can read say what to do', async () => {
    const todo = async (...drawn: Tag[][]): Promise<string[]> => {
      const { findings } = await answered([...floor, ...drawn]);
      return findings.map(({ rule, todo: words }) => `${rule}: ${words}`);
    };
    expect(await todo(line(100, 0, 100, -6, 'NOTCH'))).toEqual([
      'feature-outside: Draw it from the outline inwards, or as a point on the outline: a slit runs in from the edge.',
    ]);
    expect(await todo(open('NOTCH', [97, 0], [104, 5], [103, 0]))).toEqual([
      expect.stringMatching(/^notch-shape: .*draw a point on the outline where the notch stands/),
    ]);
  });

  it('belong to the piece that they run into, where another one touches it there', async () => {
    const { pieces, findings } = await answered([
      ...floor,
      rectangle(0, -300, 600, 300, 'OUTLINE'),
      text('SILL', 200, -150, 20),
      line(100, -0.05, 100, 6, 'NOTCH'),
    ]);
    expect(pieces.map(({ name, features }) => [name, features.length])).toEqual([
      ['floor', 1],
      ['sill', 0],
    ]);
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});

describe('a centreline', () => {
  const dashed = (layer: string, gap: number): Tag[][] =>
    [0, 1, 2, 3, 4, 5, 6, 7].map((i) => {
      const y = -100 + i * (50 + gap);
      return line(300, y, 300, y + 50, layer);
    });

  it.each([
    ['in dashes', dashed('AXIS', 20)],
    ['in dashes with wide gaps', dashed('AXIS', 45)],
    ['longer than the piece', [line(300, -300, 300, 900, 'AXIS')]],
    ['of three points', [open('AXIS', [300, -100], [300, 10], [300, 500])]],
  ])('%s is one line', async (_, axis) => {
    const { findings, pieces } = await answered([...floor, ...axis]);
    expect(findings).toEqual([]);
    expect(pieces[0]!.axis).toMatchObject({ from: { x: 300 }, to: { x: 300 } });
  });

  it('in dashes that lie on two lines is refused', async () => {
    const two = [line(300, 0, 300, 50, 'AXIS'), line(301, 60, 301, 110, 'AXIS')];
    await expect(answered([...floor, ...two])).rejects.toThrow('there are 2 AXIS lines');
  });

  it('in dashes closes a half outline', async () => {
    const half = open('Cut', [300, 0], [600, 0], [600, 400], [300, 400]);
    const { pieces } = await answered([half, ...dashed('Mitte', 20), text('FLOOR', 400, 200, 20)]);
    expect(pieces[0]!.entry.half).toBe(true);
  });
});

describe('folds in dashes', () => {
  it('are one fold each', async () => {
    const dashes = Array.from({ length: 12 }, (_, i) =>
      line(i * 50, 200, i * 50 + 45, 200, 'FOLD'),
    );
    const { findings, pieces } = await answered([...floor, ...dashes]);
    expect(rolesOf(pieces)).toEqual(['FOLD']);
    expect(findings).toEqual([]);
  });
});

describe('a drawing on one layer', () => {
  const all = (layer: string): Tag[][] => [
    rectangle(0, 0, 600, 400, layer),
    rectangle(0, 1000, 600, 400, layer),
    text('FLOOR LH 2 OFF', 200, 300, 20, layer),
    text('BACK', 200, 1300, 20, layer),
    line(100, 0, 100, 6, layer),
    line(200, 1000, 200, 1006, layer),
    rectangle(200, 100, 40, 50, layer),
    line(0, 200, 600, 200, layer),
  ];

  it('is answered by what lies on it, without moving a line', async () => {
    const layers = { '0-SHORT': 'NOTCH', '0-CLOSED': 'CUTOUT', '0-ACROSS': 'FOLD' };
    const { findings, pieces } = await answered(all('0'), { layers });
    expect(pieces.map(({ name }) => name)).toEqual(['floor', 'back']);
    expect(rolesOf(pieces)).toEqual(['CUTOUT', 'FOLD', 'NOTCH', 'NOTCH']);
    expect(findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
  });

  it('stays on that layer where all that lies on it is alike', async () => {
    const { findings } = await checkedAfter(all('Cut').slice(0, 6));
    const asked = findings.filter(({ rule }) => rule === 'unknown-layer');
    expect(asked.map(({ message }) => message.split('"')[1])).toEqual(['CUT']);
    expect(asked[0]!.message).toContain('Probably NOTCH');
  });
});

describe('gaps', () => {
  const torn = (x: number, gap: number, second = 0): Tag[][] => [
    line(x, 0, x + 300, 0, 'OUTLINE'),
    line(x + 300, gap, x + 300, 200, 'OUTLINE'),
    line(x + 300, 200, x, 200, 'OUTLINE'),
    line(x, 200, x, second, 'OUTLINE'),
  ];

  it('that are bridged are one line for the whole set', async () => {
    const file = dxf({ header: inMm, entities: [...torn(0, 0.02), ...torn(1000, 0.04, 0.03)] });
    await imported(file, ({ findings }) => {
      expect(findings.map(({ message }) => message)).toEqual([
        '3 gaps on layer OUTLINE are bridged, the widest of 0.04 mm here.',
      ]);
    });
  });

  it('that are left open are told one by one, with the place and the size of each', async () => {
    const refusal = await checkedAfter(torn(0, 0.3, 1.2)).catch((cause: unknown) => cause);
    const { findings } = refusal as { findings: Finding[] };
    expect(findings.map(({ message, where }) => [message.split(', here')[0], where.at])).toEqual([
      ['a line on layer OUTLINE is open: a gap of 0.3 mm', { x: 300, y: 0 }],
      ['a line on layer OUTLINE is open: a gap of 1.2 mm', { x: 0, y: 0 }],
    ]);
  });
});

describe('names beside edges', () => {
  const edges = [line(0, 0, 600, 0, 'SEAM'), line(0, 400, 600, 400, 'SEAM')];
  const namesOf = (pieces: readonly Piece[]): (string | null)[] =>
    pieces[0]!.features.map(({ name }) => name);
  const seams = [{ join: ['floor/rear', 'floor/front'] }];

  it('on NOTE are read where the set file speaks of the edge, inside or outside, and that is told', async () => {
    const texts = [text('Rear', 300, -30, 10, 'NOTE'), text('FRONT', 300, 370, 10, 'WORDS')];
    const { pieces, findings } = await answered([...floor, ...edges, ...texts], { seams });
    expect(namesOf(pieces)).toEqual(['rear', 'front']);
    const [told, ...more] = findings.filter(({ rule }) => rule === 'edge-name-elsewhere');
    expect(more).toEqual([]);
    expect(told!.severity).toBe('note');
    expect(told!.message).toContain('"Rear" (NOTE) on SEAM and "FRONT" (NOTE) on SEAM');
  });

  it('on NOTE are only notes where nothing speaks of the edge', async () => {
    const texts = [text('rear', 300, -30, 10, 'NOTE')];
    const { pieces, findings } = await answered([...floor, ...edges, ...texts]);
    expect(namesOf(pieces)).toEqual([null, null]);
    const proposed = findings.filter(({ rule }) => rule === 'edge-name-proposed');
    expect(proposed.map(({ severity, message }) => [severity, message])).toEqual([
      [
        'note',
        '1 text on another layer may name the edge it stands beside: "rear" beside a SEAM line of floor.',
      ],
    ]);
  });

  it.each([
    ['with other words', text('check the rear edge', 300, -30, 10, 'NOTE')],
    ['for a side', text('RH', 300, -30, 10, 'NOTE')],
    ['far from any', text('rear', 300, 200, 10, 'NOTE')],
  ])('texts %s are not proposed', async (_, words) => {
    const { findings } = await answered([...floor, ...edges, words]);
    expect(findings.map(({ rule }) => rule)).not.toContain('edge-name-proposed');
  });

  it('on the layer of their line stay there, and name it once that is said', async () => {
    const sewn = edges.map((edge) => onLayer(edge, 'Sewn'));
    const texts = [text('rear', 300, -30, 10, 'Sewn'), text('2 OFF', 300, 390, 10, 'Sewn')];
    const { pieces } = await answered([...floor, ...sewn, ...texts], {
      layers: { SEWN: 'SEAM' },
    });
    expect(namesOf(pieces)).toEqual(['rear', null]);
  });
});
