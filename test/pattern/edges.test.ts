import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathLength, reversePath } from '../../src/geometry/path.ts';
import type { Path } from '../../src/geometry/path.ts';
import { stretchOf } from '../../src/geometry/stretch.ts';
import type { Stretch, Trace } from '../../src/pattern/edges.ts';
import { claimEdges, traceTolerance } from '../../src/pattern/edges.ts';
import type { EdgeKind } from '../../src/pattern/words.ts';
import { outline } from '../geometry/arbitrary.ts';

const where = { file: 'test.dxf', piece: 'mat' };
const kinds: EdgeKind[] = ['bound', 'seam', 'tuck', 'turned', 'raw'];

/** The outline traced all round in stretches between the given shares of its length. */
function traceRound(path: Path, shares: readonly number[], back: readonly boolean[]): Trace[] {
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

function lengthByKind(stretches: readonly Stretch[], kind: EdgeKind): number {
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
        const trace = {
          kind: 'bound' as const,
          name: null,
          path: back ? reversePath(path) : path,
          line: 1,
        };
        const { stretches, findings } = claimEdges(path, [trace], null, where);
        expect(findings).toEqual([]);
        expect(stretches.map(({ kind }) => kind)).toEqual(['bound']);
        expect(Math.abs(pathLength(stretches[0]!.path) - pathLength(path))).toBeLessThan(1e-6);
      }),
    );
  });
});
