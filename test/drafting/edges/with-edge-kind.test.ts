import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EdgeDraft } from '../../../src/drafting/edges/drawn-traces.ts';
import type { EdgeAnswer } from '../../../src/drafting/edges/planned-traces.ts';
import { withEdgeKind } from '../../../src/drafting/edges/with-edge-kind.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { pathLength } from '../../../src/geometry/paths/path.ts';
import { tries } from '../../support/thorough.ts';
import {
  answered,
  answerOn,
  draftOf,
  onLayer,
  readAgain,
  readKinds,
  sharedAnswer,
} from './drafts.ts';

/** Places round an outline at which kinds are compared: 400 of them, none near the ends of an answer. */
function places(round: number, answers: readonly EdgeAnswer[]): number[] {
  const ends = answers.flatMap(({ from, to }) => [from, to]);
  return Array.from({ length: 400 }, (_, i) => ((i + 0.5) * round) / 400).filter((at) =>
    ends.every((end) => Math.abs(at - end) > 2.1 && round - Math.abs(at - end) > 2.1),
  );
}

function isIn({ from, to }: EdgeAnswer, at: number): boolean {
  return from < to ? from <= at && at < to : at >= from || at < to;
}

function given(draft: EdgeDraft, answer: EdgeAnswer): EdgeDraft {
  const { entities, findings } = withEdgeKind(draft, answer);
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  return readAgain(draft, entities);
}

const others: Entity[] = [
  { kind: 'text', layer: 'NOTE', line: 4, at: { x: 0, y: 0 }, text: 'MAT', height: 20, deg: 0 },
  {
    kind: 'text',
    layer: 'SEAM',
    line: 5,
    at: { x: 9999, y: 9999 },
    text: 'far',
    height: 20,
    deg: 0,
  },
];

describe('withEdgeKind, on random outlines', () => {
  it('gives exactly what was asked there, leaves the rest, and reads without findings', () => {
    fc.assert(
      fc.property(answered, fc.constantFrom(undefined, 'tuck' as const), (drawn, edge) => {
        let draft = draftOf([others[0]!, onLayer('OUTLINE', drawn.outline)], { edge });
        const round = pathLength(drawn.outline);
        const said: EdgeAnswer[] = [];
        for (const shared of drawn.answers) {
          const answer = answerOn(drawn.outline, shared);
          const before = readKinds(draft);
          draft = given(draft, answer);
          const after = readKinds(draft);
          said.push(answer);
          expect(after.rules).toEqual([]);
          for (const at of places(round, said)) {
            const expected = isIn(answer, at) ? (answer.kind ?? edge) : before.at(at)?.kind;
            expect(after.at(at)?.kind, `at ${at}`).toBe(expected);
          }
        }
        expect(draft.entities[0]).toBe(others[0]);
      }),
      { numRuns: tries(100, 1000) },
    );
  });

  it('changes nothing the second time', () => {
    fc.assert(
      fc.property(answered, (drawn) => {
        let draft = draftOf([onLayer('OUTLINE', drawn.outline)]);
        for (const shared of drawn.answers) {
          const answer = answerOn(drawn.outline, shared);
          draft = given(draft, answer);
          expect(withEdgeKind(draft, answer).entities).toBe(draft.entities);
        }
      }),
    );
  });

  it('is undone by saying again what was said there before', () => {
    fc.assert(
      fc.property(answered, sharedAnswer, (drawn, shared) => {
        const first = drawn.answers.reduce(
          (draft, one) => given(draft, answerOn(drawn.outline, one)),
          draftOf([onLayer('OUTLINE', drawn.outline)]),
        );
        const answer = answerOn(drawn.outline, shared);
        const round = pathLength(drawn.outline);
        const said = [...drawn.answers.map((one) => answerOn(drawn.outline, one)), answer];
        const before = readKinds(first);
        // The parts of the stretch between the ends of what was said before, each as it was.
        const ends = [...new Set(said.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b);
        const parts = ends.map((from, i) => ({ from, to: ends[(i + 1) % ends.length]! }));
        const back = parts.filter(({ from, to }) => {
          const length = (to - from + round) % round;
          return length > 8 && isIn(answer, (from + length / 2) % round);
        });
        const undone = back.reduce(
          (draft, { from, to }) => {
            const middle = (from + ((to - from + round) % round) / 2) % round;
            return given(draft, { from, to, kind: before.at(middle)?.kind ?? null });
          },
          given(first, answer),
        );
        const after = readKinds(undone);
        const isBack = (at: number): boolean =>
          !isIn(answer, at) || back.some(({ from, to }) => isIn({ from, to, kind: null }, at));
        for (const at of places(round, said).filter(isBack)) {
          expect(after.at(at)?.kind).toBe(before.at(at)?.kind);
        }
      }),
    );
  });

  it('gives every line of its own a name of its own, which readers find', () => {
    fc.assert(
      fc.property(answered, (drawn) => {
        const draft = drawn.answers.reduce(
          (one, shared) => given(one, answerOn(drawn.outline, shared)),
          draftOf([onLayer('OUTLINE', drawn.outline)]),
        );
        const lines = draft.piece.features.filter(({ path }) => pathLength(path) > 12);
        const names = lines.map(({ name }) => name);
        expect(names).not.toContain(null);
        expect(new Set(names).size).toBe(names.length);
      }),
    );
  });
});
