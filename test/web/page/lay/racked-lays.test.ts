import { describe, expect, it } from 'vitest';
import type { SearchState } from '../../../../src/web/api/lay.ts';
import type { PicturedLay, PicturedRoll } from '../../../../src/web/api/pictured.ts';
import { rackedLays } from '../../../../src/web/page/lay/racked-lays.ts';
import { rollName } from '../../../../src/web/page/words.ts';
import { picturedPart } from '../roll-picture/parts.ts';

const roll = (material: string, name: string | null, length: number | null): PicturedRoll => ({
  material,
  colour: null,
  sample: null,
  name,
  title: material,
  width: 2000,
  selvedge: 20,
  startMargin: 0,
  length,
  dyeLot: null,
  defects: [],
  outline: null,
  biteLength: 3000,
  gap: 5,
});
const lay = (of: PicturedRoll, length: number, ...labels: string[]): [string, PicturedLay] => [
  rollName(of),
  {
    material: of.material,
    colour: null,
    roll: of.name,
    placements: labels.map((label) => ({ label, x: 0, y: 0, rotation: 0 })),
    pinned: [],
    length,
    density: 0.5,
    bites: [],
  },
];
const search: SearchState = { cloth: 'felt', number: 2, of: 3, elapsed: 1, left: 3, unfit: [] };
const parts = ['a', 'b', 'c'].map((label) => picturedPart(label, { material: 'loop' }));

describe('rolls in the rack', () => {
  const [one, other] = [roll('loop', 'one', 5000), roll('loop', 'other', null)];
  const tones = (
    rolls: PicturedRoll[],
    lays: [string, PicturedLay][],
    under: SearchState | null = null,
  ): string[] => rackedLays({ parts, rolls }, new Map(lays), under).map(({ tone }) => tone);

  it('want to be looked at where parts lie nowhere, or where the lay is longer than the roll', () => {
    expect(tones([one], [])).toEqual(['waits']);
    expect(tones([one], [lay(one, 4000, 'a', 'b')])).toEqual(['open']);
    expect(tones([one], [lay(one, 5001, 'a', 'b', 'c')])).toEqual(['open']);
    expect(tones([one], [lay(one, 4000, 'a', 'b', 'c')])).toEqual(['done']);
  });

  it('share the parts of their cloth', () => {
    const both = [lay(one, 4000, 'a'), lay(other, 4000, 'b', 'c')];
    expect(tones([one, other], both)).toEqual(['done', 'done']);
    expect(tones([one, other], [lay(one, 4000, 'a', 'b', 'c')])).toEqual(['done', 'done']);
  });

  it('tell which is searched, with its share of the time, and which come next', () => {
    const rolls = [one, roll('felt', null, null), roll('rubber', null, null)];
    const racked = rackedLays({ parts, rolls }, new Map([lay(one, 4000, 'a', 'b', 'c')]), search);
    expect(racked.map(({ tone }) => tone)).toEqual(['done', 'busy', 'waits']);
    expect(racked[1]!.share).toBe(0.25);
  });
});
