import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { alongPath, pathLength, polyline, reversePath } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { stretchOf } from '../../src/geometry/paths/stretch.ts';
import type { EdgeStretch, TracedLine } from '../../src/pattern/edges.ts';
import { claimEdges, jumpAllowed, traceTolerance } from '../../src/pattern/edges.ts';
import type { EdgeKind } from '../../src/pattern/words.ts';
import { outline } from '../geometry/arbitrary.ts';

const where = { file: 'test.dxf', piece: 'mat' };
const kinds: EdgeKind[] = ['bound', 'seam', 'tuck', 'turned', 'raw'];

/** The outline traced all round in stretches between the given shares of its length. */
function traceRound(path: Path, shares: readonly number[], back: readonly boolean[]): TracedLine[] {
  const length = pathLength(path);
  const cuts = [...shares].sort((a, b) => a - b);
  return cuts.map((share, i) => {
    const stretch = stretchOf(
      path,
      share * length,
      (cuts[(i + 1) % cuts.length]! * length) % length,
    );
    return {
      kind: kinds[i % kinds.length]!,
      name: null,
      path: back[i] === true ? reversePath(stretch) : stretch,
      line: i,
    };
  });
}

const cuts = fc
  .uniqueArray(fc.integer({ min: 1, max: 40 }), { minLength: 2, maxLength: 6 })
  .map((numbers) => numbers.map((n) => n / 41));

function lengthByKind(stretches: readonly EdgeStretch[], kind: EdgeKind): number {
  return stretches
    .filter((s) => s.kind === kind)
    .reduce((sum, { path }) => sum + pathLength(path), 0);
}

describe('claimEdges', () => {
  it('gives each kind what was traced for it, whichever way the traces run, and covers the outline', () => {
    fc.assert(
      fc.property(
        outline,
        cuts,
        fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
        (path, shares, back) => {
          const traces = traceRound(path, shares, back);
          const { stretches, findings } = claimEdges(path, traces, null, where);
          expect(findings).toEqual([]);
          const sum = stretches.reduce((total, s) => total + pathLength(s.path), 0);
          expect(Math.abs(sum - pathLength(path))).toBeLessThan(1e-3);
          for (const kind of kinds) {
            const traced = traces
              .filter((t) => t.kind === kind)
              .reduce((total, t) => total + pathLength(t.path), 0);
            const ends = 2 * traceTolerance * traces.length;
            expect(Math.abs(lengthByKind(stretches, kind) - traced)).toBeLessThan(ends);
          }
        },
      ),
    );
  });

  it('finds a stretch left out, with its length', () => {
    fc.assert(
      fc.property(outline, cuts, (path, shares) => {
        const [gone, ...kept] = traceRound(path, shares, []);
        const { findings } = claimEdges(path, kept, null, where);
        expect(findings.map(({ rule }) => rule)).toEqual(['edge-not-claimed']);
        expect(
          Math.abs(Number.parseFloat(findings[0]!.message) - pathLength(gone!.path)),
        ).toBeLessThan(1.2);
      }),
    );
  });

  it('gives a stretch left out to the piece’s own kind, where the set names one', () => {
    fc.assert(
      fc.property(outline, cuts, (path, shares) => {
        const [gone, ...kept] = traceRound(path, shares, []);
        const { stretches, findings } = claimEdges(
          path,
          kept.map(({ path: traced, line }) => ({
            kind: 'tuck' as const,
            name: null,
            path: traced,
            line,
          })),
          'raw',
          where,
        );
        expect(findings).toEqual([]);
        expect(Math.abs(lengthByKind(stretches, 'raw') - pathLength(gone!.path))).toBeLessThan(1.2);
      }),
    );
  });

  it('a closed trace claims all', () => {
    fc.assert(
      fc.property(outline, fc.boolean(), (path, back) => {
        const whole = {
          kind: 'bound' as const,
          name: null,
          path: back ? reversePath(path) : path,
          line: 1,
        };
        const { stretches, findings } = claimEdges(path, [whole], null, where);
        expect(findings).toEqual([]);
        expect(stretches.map(({ kind }) => kind)).toEqual(['bound']);
        expect(Math.abs(pathLength(stretches[0]!.path) - pathLength(path))).toBeLessThan(1e-6);
      }),
    );
  });
});

// 400 x 300, counter-clockwise from the origin: 1400 round.
const oblong = lines(true, [0, 0], [400, 0], [400, 300], [0, 300]);

function lines(closed: boolean, ...corners: readonly (readonly [number, number])[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    closed,
  );
}

function trace(path: Path, line = 1, kind: EdgeKind = 'bound'): TracedLine {
  return { kind, name: null, path, line };
}

function findingsOf(outlined: Path, ...paths: readonly Path[]): Finding[] {
  const traces = paths.map((path, i) => trace(path, i + 1));
  return claimEdges(outlined, traces, 'raw', where).findings;
}

function expectFinding(found: readonly Finding[], rule: string, at: [number, number]): string {
  expect(found.map((finding) => finding.rule)).toEqual([rule]);
  expect(found[0]!.where.at!.x).toBeCloseTo(at[0], 6);
  expect(found[0]!.where.at!.y).toBeCloseTo(at[1], 6);
  return found[0]!.message;
}

describe('a trace that does not follow the outline', () => {
  it('is found where it leaves it, with how far and along what length', () => {
    // Up to 40 above the outline from x = 100 to x = 300: further than 1 for nearly all of that.
    const found = findingsOf(oblong, lines(false, [0, 0], [100, 0], [200, 40], [300, 0], [400, 0]));
    const message = expectFinding(found, 'edge-strays', [200, 40]);
    const [distance, length] = [...message.matchAll(/[\d.]+ mm/g)].map((m) =>
      Number.parseFloat(m[0]),
    );
    expect(distance).toBe(40);
    // Two sides of 107.7, less what lies within the tolerance, to a stride of 5 at each end.
    expect(length).toBeGreaterThan(2 * 107.7 - 10);
    expect(length).toBeLessThan(2 * 107.7);
    expect(message).toContain('1 mm allowed');
  });

  it('is found in a corner that is narrower than the steps that are looked at', () => {
    const found = findingsOf(oblong, lines(false, [0, 0], [202, 0], [203, 2], [204, 0], [400, 0]));
    expectFinding(found, 'edge-strays', [203, 2]);
  });

  it('is found where it doubles back, with how far', () => {
    const found = findingsOf(oblong, lines(false, [100, 0], [350, 0], [250, 0]));
    const message = expectFinding(found, 'edge-doubles-back', [350, 0]);
    expect(message).toContain('back over 100.0 mm');
    expect(message).toContain('1 mm allowed');
  });

  it('is found where it runs there and back', () => {
    const found = findingsOf(oblong, lines(true, [100, 0], [350, 0]));
    expectFinding(found, 'edge-doubles-back', [350, 0]);
  });

  it('is found where it goes round more than once', () => {
    const { vertices } = oblong;
    const round = lines(false, ...vertices.map(({ x, y }) => [x, y] as const), [0, 0], [50, 0]);
    const message = expectFinding(findingsOf(oblong, round), 'edge-doubles-back', [50, 0]);
    expect(message).toContain('50.0 mm further');
  });

  // A slit of 0.8 from (200, 300) down to (200, 200): its sides are 100 long. Straight across its mouth
  // a line is nowhere further than 0.4 from one or the other side.
  const slit = lines(
    true,
    [0, 0],
    [400, 0],
    [400, 300],
    [200.8, 300],
    [200.4, 200],
    [200, 300],
    [0, 300],
  );

  it('is found where it jumps over a slit, with how much it leaves out', () => {
    const found = findingsOf(slit, lines(false, [400, 300], [0, 300]));
    expect(found.map(({ rule }) => rule)).toEqual(['edge-jumps']);
    expect(Number.parseFloat(/over ([\d.]+) mm/.exec(found[0]!.message)![1]!)).toBeCloseTo(
      199.2,
      0,
    );
    expect(found[0]!.message).toContain(`${jumpAllowed} mm allowed`);
    expect(Math.abs(found[0]!.where.at!.x - 200.4)).toBeLessThan(5.5);
    expect(found[0]!.where.at!.y).toBeCloseTo(300, 6);
  });

  it('is sound where it goes into the slit and out again', () => {
    const { vertices } = slit;
    const inside = lines(false, ...vertices.slice(2).map(({ x, y }) => [x, y] as const));
    expect(findingsOf(slit, inside)).toEqual([]);
  });

  it.each([
    ['a point', lines(false, [100, 0])],
    ['a speck', lines(false, [100, 0], [100.9, 0])],
    ['both ends at one corner', lines(false, [399.7, 0], [400, 0.3])],
  ])('is no trace: %s', (_, path) => {
    const found = findingsOf(oblong, path);
    expect(found.map(({ rule }) => rule)).toEqual(['edge-too-short']);
    expect(found[0]!.message).toContain('the 1 mm by');
  });
});

describe('traces that meet', () => {
  const halves = (gap: number): Finding[] => {
    const traces = [
      trace(lines(false, [0, 300], [0, 0], [200, 0]), 1),
      trace(lines(false, [200 + gap, 0], [400, 0], [400, 300], [0, 300]), 2),
    ];
    return claimEdges(oblong, traces, null, where).findings;
  };

  it.each([0, 0.9, -0.9])(
    'within the tolerance are one edge after the other: %d mm apart',
    (gap) => {
      expect(halves(gap)).toEqual([]);
    },
  );

  it('further apart leave a gap', () => {
    const message = expectFinding(halves(1.3), 'edge-not-claimed', [200, 0]);
    expect(message).toMatch(/^1\.3 mm .*1 mm allowed/);
  });

  it('over each other are found, with both lines and the length', () => {
    const found = halves(-3);
    const message = expectFinding(found, 'edge-claimed-twice', [197, 0]);
    expect(message).toMatch(/^3\.0 mm .*line 2.*1 mm allowed/);
    expect(found[0]!.where.line).toBe(1);
  });

  it('one within another are found with the length of the inner one, and nothing else', () => {
    const traces = [trace(oblong, 1), trace(lines(false, [100, 0], [150, 0]), 2, 'seam')];
    const { findings } = claimEdges(oblong, traces, null, where);
    const message = expectFinding(findings, 'edge-claimed-twice', [100, 0]);
    expect(message).toMatch(/^50\.0 mm .*BOUND.*SEAM line at line 2/);
  });
});

describe('laws of tracing', () => {
  const off = fc.double({ min: -0.9, max: 0.9, noNaN: true });
  const wobble = fc.array(off, { minLength: 20, maxLength: 20 });

  /** Traced by hand: twenty points along a path, each a little aside. */
  function byHand(path: Path, errors: readonly number[]): Path {
    const length = pathLength(path);
    const points = Array.from({ length: 20 }, (_, i) => {
      const { point, tangent } = alongPath(path, (length * i) / 19);
      return { x: point.x + tangent.y * errors[i]!, y: point.y - tangent.x * errors[i]! };
    });
    return polyline(points, false);
  }

  it('a hand that shakes by less than the tolerance claims the same stretch', () => {
    fc.assert(
      fc.property(wobble, fc.boolean(), (errors, back) => {
        const side = lines(false, [10, 0], [390, 0]);
        const drawn = byHand(side, errors);
        const { stretches, findings } = claimEdges(
          oblong,
          [trace(back ? reversePath(drawn) : drawn)],
          'raw',
          where,
        );
        expect(findings).toEqual([]);
        expect(lengthByKind(stretches, 'bound')).toBeCloseTo(380, 6);
      }),
    );
  });

  it('a trace that turns back anywhere on any outline is found, at that place', () => {
    fc.assert(
      fc.property(
        outline,
        fc.double({ min: 0.1, max: 0.8, noNaN: true }),
        fc.double({ min: 1.1, max: 60, noNaN: true }),
        (path, share, length) => {
          const whole = pathLength(path);
          const turn = share * whole;
          const forth = stretchOf(path, turn - 80, turn);
          const back = reversePath(stretchOf(path, turn - length, turn));
          const both = {
            closed: false,
            vertices: [...forth.vertices.slice(0, -1), ...back.vertices],
          };
          const found = findingsOf(path, both);
          const { x, y } = alongPath(path, turn).point;
          const message = expectFinding(found, 'edge-doubles-back', [x, y]);
          const said = Number.parseFloat(/over ([\d.]+) mm/.exec(message)![1]!);
          expect(Math.abs(said - length)).toBeLessThan(0.06);
        },
      ),
    );
  });
});
