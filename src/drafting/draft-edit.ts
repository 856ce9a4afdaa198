import { z } from 'zod';
import { followsWords } from '../pattern/layers.ts';
import { edgeKinds } from '../pattern/words.ts';

const name = z.string().min(1).max(200);
const index = z.number().int().min(0);
const number = z.number().min(-1e6).max(1e6);
const point = z.tuple([number, number]).describe('mm, in the frame of the block');
const things = z.array(index).min(1).max(10_000).describe('things of the block, by their places');

/**
 * New values by their keys; null takes a key out, so that its default holds. Keys that say how a piece is
 * drawn have edits of their own.
 */
const valuesOf = <Key extends string>(keys: readonly Key[]) =>
  z.partialRecord(z.enum(keys), z.unknown());

const setKeys = [
  'title',
  'drawn',
  'units',
  'pile',
  'at',
  'edge',
  'front',
  'binding',
  'uses',
  'groups',
  'options',
  'ease',
  'gap',
  'unused',
] as const;

const pieceKeys = [
  'title',
  'side',
  'drawnSide',
  'outline',
  'material',
  'quantity',
  'at',
  'edge',
  'covered',
  'tucked',
  'half',
  'other',
  'only',
  'pile',
  'turns',
  'tilt',
  'notch',
  'decided',
  'pad',
  'stitched',
  'board',
  'underlay',
] as const;

/** Keys whose question under `open:` is answered by the edit. */
const answered = z.array(z.string()).default([]);

/** What a thing that is added looks like, in mm in the frame of its block. */
const shape = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('circle'), at: point, diameter: z.number().min(0.5).max(5000) }),
  z.strictObject({ kind: z.literal('point'), at: point }),
  z.strictObject({
    kind: z.literal('line'),
    points: z.array(point).min(2).max(2000),
    closed: z.boolean(),
    bulges: z
      .array(z.number().min(-1).max(1))
      .max(2000)
      .optional()
      .describe('how much each side after a point bulges: the tangent of a quarter of its angle'),
  }),
  z.strictObject({ kind: z.literal('text'), at: point, text: z.string().min(1).max(200) }),
]);

/** Parts of an outline. */
const stretches = z
  .array(z.strictObject({ from: z.number().min(0), to: z.number().min(0) }))
  .min(1)
  .max(500)
  .describe('mm along the outline from its start, counter-clockwise');

/** One of the two edges of a seam: stretches that follow each other. */
const sewn = z.strictObject({ piece: name, stretches });

/** Two edges that are sewn together. */
export const seamEditSchema = z.strictObject({
  kind: z.literal('seam'),
  sides: z.tuple([sewn, sewn]),
  ease: z.number().min(0).max(50).nullable().describe('mm; null: as the set says'),
});

/** One change of a draft. Things are named by their places in their block, in the version it was made for. */
export const draftEditSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('set'), values: valuesOf(setKeys), answered }),
  z.strictObject({
    kind: z.literal('pieces'),
    pieces: z.array(name).min(1),
    values: valuesOf(pieceKeys),
    answered,
  }),
  z.strictObject({
    kind: z.literal('layer'),
    layer: name,
    means: name.nullable(),
    piece: name.nullable().describe('on this piece alone; null: in the whole set'),
  }),
  z.strictObject({
    kind: z.literal('mean'),
    block: name,
    things,
    means: name.describe('ROLE, ROLE-FOLLOWS, with options'),
    also: z
      .array(z.strictObject({ block: name, things }))
      .max(1000)
      .optional()
      .describe('things of other blocks that mean the same'),
  }),
  z.strictObject({
    kind: z.literal('follow'),
    piece: name,
    things,
    follows: z
      .enum(followsWords)
      .nullable()
      .describe('null: they stay with the piece. What can follow nobody is left as it is'),
  }),
  z.strictObject({ kind: z.literal('add'), block: name, means: name, shape }),
  z.strictObject({ kind: z.literal('remove'), block: name, things }),
  z.strictObject({ kind: z.literal('move'), block: name, things, by: point }),
  z.strictObject({
    kind: z.literal('copy'),
    block: name,
    things,
    by: point,
    mirror: z
      .tuple([point, point])
      .nullable()
      .describe('a line in which they are mirrored before they are moved'),
  }),
  z.strictObject({ kind: z.literal('give'), block: name, things, piece: name }),
  z.strictObject({
    kind: z.literal('close-gap'),
    block: name,
    from: point.describe('the end of a line'),
    to: point.describe('the end of that line, or of another, that it is joined to'),
  }),
  z.strictObject({ kind: z.literal('begin-piece'), block: name, outline: index, piece: name }),
  z.strictObject({ kind: z.literal('drop-piece'), piece: name }),
  z.strictObject({ kind: z.literal('rename'), piece: name, to: name }),
  z.strictObject({
    kind: z.literal('turn'),
    piece: name,
    quarters: z.number().int().min(1).max(3),
  }),
  z.strictObject({
    kind: z.literal('place'),
    piece: name,
    to: z
      .tuple([number.nullable(), number.nullable()])
      .describe('mm in the vehicle; null: as it is'),
    by: point.describe('further by so much'),
  }),
  z.strictObject({
    kind: z.literal('front'),
    pieces: z.array(name).min(1),
    front: z
      .enum(['up', 'right', 'down', 'left'])
      .describe('where the front is, as they are drawn'),
  }),
  z.strictObject({
    kind: z.literal('axis'),
    piece: name,
    line: z
      .union([z.tuple([point, point]), z.literal('middle')])
      .nullable()
      .describe('middle: where the outline is its own mirror image'),
  }),
  z.strictObject({ kind: z.literal('pair'), piece: name, other: name }),
  z.strictObject({
    kind: z.literal('edge'),
    piece: name,
    stretches,
    edge: z.enum(edgeKinds).nullable(),
    name: name.optional().describe('left out: the name it has, or one that says where it lies'),
    under: z.string().max(200).optional().describe('what covers it, or what it is tucked under'),
  }),
  z.strictObject({ kind: z.literal('name-edge'), piece: name, edge: name, to: name }),
  seamEditSchema,
  z.strictObject({ kind: z.literal('unseam'), join: z.tuple([name, name]) }),
  z.strictObject({
    kind: z.literal('seam-notches'),
    join: z.tuple([name, name]),
    count: z.number().int().min(1).max(50),
    replace: z.boolean(),
  }),
]);

export type DraftEdit = z.infer<typeof draftEditSchema>;
export type EditOf<Kind extends DraftEdit['kind']> = Extract<DraftEdit, { kind: Kind }>;
export type AddedShape = z.infer<typeof shape>;
