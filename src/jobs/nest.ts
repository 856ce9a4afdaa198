import { z } from 'zod';
import { refuse } from '../base/findings.ts';
import type { Instance, Nest } from '../lay/engine/engine.ts';
import { checkInstance, ringArea, slackShare } from '../lay/engine/engine.ts';
import { readYaml } from '../base/yaml.ts';

const ring = z.array(z.tuple([z.number(), z.number()])).min(3);

/** An instance in the format in which the literature publishes its instances. */
const instanceSchema = z.looseObject({
  name: z.string().optional(),
  // Areas of wider or narrower strips would have no digits left.
  stripWidth: z.number().positive().min(1e-100).max(1e100),
  pieces: z.array(
    z.looseObject({
      id: z.union([z.string(), z.number()]),
      demand: z.number().int().min(0),
      rotations: z.array(z.number()).min(1),
      outline: ring,
      holes: z.array(ring).optional(),
    }),
  ),
});

export type PublishedInstance = z.infer<typeof instanceSchema>;

/**
 * Reads an instance (JSON). Corners that are nearer together than the engine's slack become one. Throws a
 * Refusal that names the place, or the piece that makes no sense.
 */
export function readInstance(file: string): PublishedInstance {
  const { value: written, placeOf } = readYaml(file, instanceSchema, 'instance');
  const value = withoutRepeats(written);
  for (const [i, piece] of value.pieces.entries()) {
    const { id, outline } = piece;
    const where = { ...placeOf(['pieces', i]), piece: String(id) };
    if (value.pieces.findIndex((other) => String(other.id) === String(id)) !== i) {
      refuse('same-id', `two pieces have the id ${id}.`, 'Give each an id of its own.', where);
    }
    if (outline.length < 3) {
      refuse('no-area', 'its outline bounds no area.', 'Draw it anew, or remove it.', where);
    }
    if (piece.demand > 0) checkFits(value.stripWidth, piece, where);
    try {
      checkInstance(engineInstance({ ...value, pieces: [piece] }));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      const said = error.message
        .replace(/^item 0:? /, '')
        // A place that it names is in the frame of the piece.
        .replace(/\)$/, ') of the piece’s own frame')
        .replace(', or runs clockwise', '');
      refuse('outline', `${said}.`, 'Mend it there.', where);
    }
    if (areaOf(piece) <= 0) {
      refuse(
        'no-area',
        'its holes leave nothing of it.',
        'Take the holes out, or the piece.',
        where,
      );
    }
  }
  const wanted = value.pieces.reduce((sum, { demand }) => sum + demand, 0);
  if (wanted > mostPieces) {
    const message = `${wanted} pieces are wanted in all, more than ${mostPieces}.`;
    refuse('too-many', message, 'Lay them in several instances.', { file });
  }
  return value;
}

/** More are not laid: the search has a figure for each pair of them. */
const mostPieces = 10_000;

/** Two corners in one place, but for the last digits, are one. */
function withoutRepeats(instance: PublishedInstance): PublishedInstance {
  const slack = slackShare * instance.stripWidth;
  return {
    ...instance,
    pieces: instance.pieces.map(({ outline, holes, ...piece }) => ({
      ...piece,
      outline: distinct(outline, slack),
      ...(holes === undefined ? {} : { holes: holes.map((hole) => distinct(hole, slack)) }),
    })),
  };
}

/** The corners that are further than `slack` from the one before them that is kept, all around. */
function distinct(
  points: readonly [x: number, y: number][],
  slack: number,
): [x: number, y: number][] {
  const kept: [x: number, y: number][] = [];
  const isNear = (a: [number, number], b: [number, number] | undefined): boolean =>
    b !== undefined && Math.hypot(a[0] - b[0], a[1] - b[1]) <= slack;
  for (const point of points) if (!isNear(point, kept.at(-1))) kept.push(point);
  while (kept.length > 1 && isNear(kept.at(-1)!, kept[0])) kept.pop();
  return kept;
}

function checkFits(
  width: number,
  { outline, rotations }: PublishedInstance['pieces'][number],
  where: { piece: string },
): void {
  const heights = rotations.map((deg) => {
    const turn = (deg * Math.PI) / 180;
    const across = outline.map(([x, y]) => x * Math.sin(turn) + y * Math.cos(turn));
    return Math.max(...across) - Math.min(...across);
  });
  const least = Math.min(...heights);
  if (least <= width * (1 + 1e-9)) return;
  const over = Number((least - width).toPrecision(2));
  const message = `it is ${least.toFixed(3)} across the strip at the least, in the turns it is allowed; the strip is ${width} wide: ${over} are missing.`;
  refuse('part-too-wide', message, 'Allow another turn, or take a wider strip.', where);
}

/** The instance as the engine takes it: outlines counter-clockwise, holes clockwise. */
export function engineInstance({ stripWidth, pieces }: PublishedInstance): Instance {
  return {
    width: stripWidth,
    kinds: pieces.map(({ demand, rotations, outline, holes = [] }) => ({
      demand,
      rotations,
      outline: oriented(outline, 1),
      holes: holes.map((hole) => oriented(hole, -1)),
    })),
  };
}

function oriented(points: readonly [number, number][], sign: 1 | -1): number[] {
  const right = ringArea(points.flat()) * sign > 0;
  return (right ? points : points.toReversed()).flat();
}

/** The area of all pieces as a share of length times width; 0 for no length. */
export function densityOf({ pieces, stripWidth }: PublishedInstance, length: number): number {
  const area = pieces.reduce((sum, piece) => sum + piece.demand * areaOf(piece), 0);
  return length === 0 ? 0 : area / (length * stripWidth);
}

function areaOf({ outline, holes = [] }: PublishedInstance['pieces'][number]): number {
  const own = Math.abs(ringArea(outline.flat()));
  return holes.reduce((left, hole) => left - Math.abs(ringArea(hole.flat())), own);
}

/** The text of placements.json. */
export function placementsText(
  { pieces }: PublishedInstance,
  { length, placements }: Nest,
): string {
  const rows = placements.map(({ kind, rotation, x, y }) =>
    JSON.stringify({ id: pieces[kind]!.id, rotation, x, y }),
  );
  return `{"length": ${length}, "placements": [\n${rows.join(',\n')}\n]}\n`;
}
