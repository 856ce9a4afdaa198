import { describe, expect, it } from 'vitest';
import {
  edgeReferences,
  withEdgeRenamed,
  withEdgeSplit,
  withoutEdge,
} from '../../../src/drafting/edges/edge-references.ts';

const content = {
  title: 'van',
  pieces: {
    floor: { side: 'centre', covered: { rear: 'the sill', left: 'the wall' }, tucked: 'the trim' },
    dash: { side: 'centre', covered: { rear: 'the pad' } },
  },
  seams: [
    { join: ['floor/rear', 'dash'] as [string, string], ease: 4 },
    { join: ['dash/rear', 'floor/rear-2'] as [string, string] },
  ],
};

describe('what a set file says of an edge', () => {
  it('is found in seams and in what hides edges', () => {
    expect(edgeReferences(content, 'floor', 'rear')).toEqual([
      { way: ['seams', 0, 'join', 0], isKey: false },
      { way: ['pieces', 'floor', 'covered', 'rear'], isKey: true },
    ]);
    expect(edgeReferences(content, 'floor', 'trim')).toEqual([]);
  });

  it('is renamed there and nowhere else, and back again', () => {
    const renamed = withEdgeRenamed(content, 'floor', 'rear', 'toe');
    expect(renamed).toEqual({
      ...content,
      pieces: {
        ...content.pieces,
        floor: { ...content.pieces.floor, covered: { toe: 'the sill', left: 'the wall' } },
      },
      seams: [{ join: ['floor/toe', 'dash'], ease: 4 }, content.seams[1]],
    });
    expect(withEdgeRenamed(renamed, 'floor', 'toe', 'rear')).toEqual(content);
    expect(withEdgeRenamed(content, 'floor', 'trim', 'x')).toBe(content);
  });

  it('does not write over what another edge of that name has', () => {
    const { pieces } = withEdgeRenamed(content, 'floor', 'left', 'rear');
    expect(pieces.floor.covered).toEqual({ rear: 'the sill' });
  });

  it('hides both parts of an edge that was cut', () => {
    const { pieces, seams } = withEdgeSplit(content, 'floor', 'rear', 'rear-3');
    expect(pieces.floor.covered).toEqual({ ...content.pieces.floor.covered, 'rear-3': 'the sill' });
    expect(seams).toBe(content.seams);
    expect(withEdgeSplit(content, 'floor', 'front', 'front-2')).toBe(content);
  });

  it('goes with an edge that is gone, and its key if none is left', () => {
    expect(withoutEdge(content, 'floor', 'rear').pieces.floor.covered).toEqual({
      left: 'the wall',
    });
    expect(withoutEdge(content, 'dash', 'rear').pieces.dash).toEqual({ side: 'centre' });
    expect(withoutEdge(content, 'dash', 'front')).toBe(content);
  });
});
