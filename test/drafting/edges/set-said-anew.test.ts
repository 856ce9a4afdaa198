import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import type { EdgeDraft } from '../../../src/drafting/edges/drawn-traces.ts';
import { stretchesOf } from '../../../src/drafting/edges/stretches.ts';
import { withEdgeKind } from '../../../src/drafting/edges/with-edge-kind.ts';
import { readDrawing } from '../../../src/drawing/read.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import { readSet } from '../../../src/pattern/set.ts';
import { readMaterials } from '../../../src/pattern/shop/material.ts';
import { writeSetDrawing } from '../../../src/pattern/write-set.ts';
import { order } from '../../handing/fixtures.ts';

const project = resolve(import.meta.dirname, '../../..');
const shared = join(project, 'shared');
const fenlark = join(project, 'patterns/fenlark');
const folder = mkdtempSync(join(tmpdir(), 'pileway-'));
afterAll(() => rmSync(folder, { recursive: true }));

// Law: a set whose edges are all taken away and said again, stretch by stretch, is the set that it was.
it('the demo set is judged as before when every edge of it is said anew and read from its files', () => {
  const set = readSet(fenlark, shared);
  const { blocks } = readDrawing(join(fenlark, 'fenlark.dxf'), { setUnits: 'mm' });
  let said = 0;
  const anew = blocks.map((block) => {
    const piece = set.pieces.find(({ name }) => name.toUpperCase() === block.name);
    if (piece === undefined) return block;
    const draft: EdgeDraft = {
      piece,
      entities: block.entities,
      map: new Map(),
      drawn: set.content.drawn,
      options: set.options,
    };
    const { stretches } = stretchesOf(draft);
    let { entities } = withEdgeKind(draft, { from: 0, to: 0, kind: null });
    for (const { from, to, kind, name, saidBy } of stretches) {
      if (saidBy !== 'trace') continue;
      const given = withEdgeKind({ ...draft, entities }, { from, to, kind, name });
      expect(given.findings).toEqual([]);
      entities = given.entities;
      said++;
    }
    return { ...block, entities };
  });
  expect(said).toBeGreaterThan(100);
  const copy = join(folder, 'fenlark');
  mkdirSync(copy);
  cpSync(join(fenlark, 'set.yaml'), join(copy, 'set.yaml'));
  writeFileSync(join(copy, 'fenlark.dxf'), writeSetDrawing(anew));
  const told = (of: string): string[] => {
    const read = readSet(of, shared);
    const { findings } = deriveParts(read, order('LHD'), readMaterials(read.materials, shared));
    return [...read.findings, ...findings]
      .map(({ rule, severity, where }) => `${severity} ${rule} ${where.piece}`)
      .sort();
  };
  expect(told(copy)).toEqual(told(fenlark));
  const kinds = (of: string): string[] =>
    readSet(of, shared).pieces.flatMap(({ name, features }) =>
      features
        .filter(({ role }) => ['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW'].includes(role))
        .map((edge) => `${name} ${edge.role} ${edge.name}`)
        .sort(),
    );
  expect(kinds(copy)).toEqual(kinds(fenlark));
});
