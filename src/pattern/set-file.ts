import { z } from 'zod';
import { longestName, plainName, shortText, titleText } from '../base/names.ts';
import { nameBound } from '../base/text-bounds.ts';
import { readYesNo } from '../base/yes-no.ts';
import { isJoiner } from './conditions.ts';
import { layerFileSchema } from './layers.ts';
import { defaultGap, gapSchema, refitSchema } from './outlines/outlines.ts';
import { fixedSchema, notchSchema } from './shop/material.ts';
import { priceSchema } from './shop/price.ts';
import { edgeKinds, hands, sides, turnings } from './words.ts';

/** The name of a piece, a set or a material. */
export const pieceName = plainName.max(nameBound.most, nameBound.why);

/**
 * `piece`, or `piece/edge` if the piece has several seams. The name of an edge is a text beside its line.
 */
const edgeRef = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*(\/[a-z0-9]+(-[a-z0-9]+)*)?$/, 'expected piece or piece/edge');

const seam = z.strictObject({
  join: z.tuple([edgeRef, edgeRef]),
  ease: z.number().min(0).max(200).optional().describe('mm, instead of the set’s'),
});

/**
 * The direction in the vehicle in which the pile leans: a word, or degrees counter-clockwise from the
 * vehicle's right.
 */
const pile = z.union([
  z.enum(
    ['forward', 'rearward', 'left', 'right'],
    'write forward, rearward, left, right, or degrees counter-clockwise from the right',
  ),
  z.number(),
]);

/**
 * Values that somebody must still look at: the key of each, and why it is only a guess. Nothing is cut
 * while there is one.
 */
const questions = z.record(z.string(), z.string().min(1)).nullable();

/** What hides the edges of a kind: one text for all, or one for each edge by its name. */
const hider = z.union([z.string().min(1), z.record(pieceName, z.string().min(1))]);

/**
 * A board or underlay: a second layer that is cut to the outline of the piece, smaller by `inset` mm all
 * round.
 */
const companion = z.strictObject({
  material: pieceName,
  inset: z.number().min(0).max(200).default(0).describe('mm inside the net outline'),
  fixed: fixedSchema.optional(),
});

const board = companion.extend({
  wraps: z
    .enum(['tuck', 'turned'])
    .optional()
    .describe('edges of this kind are wrapped round the board, onto its back'),
});

/** What is cut or pierced in the vehicle, at each mark on the piece that has the name of this entry. */
const siteJob = z.strictObject({
  do: z
    .string()
    .min(1)
    .max(160, 'at most 160 letters fit in the list of the fitting sheet')
    .describe('what is done there, for who fits it, like "pierce it for the belt bolt"'),
  size: z.number().positive().max(1000).optional().describe('mm across'),
});

/** A question under this key of a piece is about texts drawn on it, which may say what no key says. */
export const textsKey = 'texts';

/** A question under this key of a piece is whether it is a piece at all. */
export const pieceKey = 'piece';

/** A question under this key of a set is about what lies in no outline of its drawing. */
export const leftOutKey = 'left-out';

/** A question under this key of a set is about layers that were numbers, and were read by a standard. */
export const numberedKey = 'numbered-layers';

/** The block in the set's drawing that holds it. */
export const leftOutBlock = 'LEFT-OUT';

/** The name of an option or of one of its values: it is part of the names of layers, between hyphens. */
const optionName = z
  .string()
  .regex(/^[a-z0-9]+$/, 'an option is named with small letters and digits alone')
  .refine((name) => !isJoiner(name), '"with" and "without" would not be told from what joins names')
  .max(longestName, `at most ${longestName} letters`);

const valueName = optionName.refine(
  (value) => readYesNo(value) === undefined,
  'call it otherwise, like none; for an option that is there or is not, leave "values" out',
);

/** Something that vehicles of this kind may have or not, and pieces or features go with. */
const optionSchema = z
  .strictObject({
    words: shortText.describe('what it is called on papers, like "overdrive switch"'),
    values: z
      .array(valueName)
      .min(2)
      .refine((values) => new Set(values).size === values.length, 'each value once')
      .optional()
      .describe('one of these; left out: it is there or it is not'),
    default: z
      .union([z.boolean(), optionName])
      .describe('what it is where an order does not say it'),
    price: z
      .union([priceSchema, z.record(optionName, priceSchema)])
      .optional()
      .describe('what it costs more for a set: where it is there, or by its values'),
  })
  .refine(
    ({ values, default: usual }) =>
      values === undefined ? typeof usual === 'boolean' : values.includes(String(usual)),
    { path: ['default'], message: 'is one of the values, or true or false where there are none' },
  )
  .refine(
    ({ values, price }) =>
      price === undefined || (typeof price === 'object') === (values !== undefined),
    { path: ['price'], message: 'is given for each value, where there are values' },
  );

/** Where the front of the vehicle is in a block. A block that is drawn otherwise is turned in the drawing. */
const frontSchema = z.literal('top');

const vehiclePlace = z.tuple([z.number(), z.number()]);

const pieceSchema = z.strictObject({
  title: shortText
    .optional()
    .describe('what it is called on papers, like "Footrest"; its name in words if left out'),
  block: z.string().optional().describe('block in the drawing; the name in capitals if left out'),
  file: z.string().optional().describe('a DXF of its own, instead of a block in the set’s drawing'),
  side: z.enum(['centre', 'pair', 'left', 'right', 'driver', 'passenger']),
  drawnSide: z.enum(sides).optional().describe('which half of a pair the block draws'),
  outline: z.enum(['body', 'driver']).default('body').describe('what a centre outline follows'),
  material: pieceName,
  quantity: z.number().int().min(1).max(100).default(1),
  at: vehiclePlace
    .default([0, 0])
    .describe('mm, where the block’s origin lies in the vehicle: to the right, forward'),
  front: frontSchema
    .optional()
    .describe('the front of the vehicle is at the top of the block, wherever the piece lies'),
  edge: z.enum(edgeKinds).optional().describe('what every stretch is that no line traces'),
  covered: hider.optional().describe('what covers the raw edges, or each of them by its name'),
  tucked: hider.optional().describe('what tuck edges go under, or each of them by its name'),
  half: z
    .boolean()
    .default(false)
    .describe('only one half is drawn: AXIS is the line it is mirrored in'),
  other: z
    .string()
    .optional()
    .describe('block of a pair’s other half, where both are drawn: held against the mirror image'),
  only: z.enum(hands).optional().describe('cut for this hand of drive alone'),
  pile: pile.optional().describe('where it is not as the set says'),
  turns: z
    .enum(turnings)
    .optional()
    .describe('how this piece may be turned on the roll, where not as its material says'),
  tilt: z
    .number()
    .min(0)
    .max(15)
    .optional()
    .describe('degrees by which the pile of a hidden piece may lean aside, to save cloth'),
  notch: notchSchema
    .optional()
    .describe('mm, how deep its notches are, if not as its material says'),
  decided: z
    .string()
    .min(1)
    .optional()
    .describe('why what is drawn on one side alone, or follows a person, is right for both hands'),
  layers: layerFileSchema
    .optional()
    .describe('layers that mean something else on this piece than in the rest of the set'),
  pad: pieceName.optional().describe('material of the heel pad'),
  stitched: shortText
    .optional()
    .describe('what its stitch lines hold, those of heel pads apart, like "the foam behind it"'),
  board: board.optional(),
  underlay: companion.optional(),
  onSite: z
    .record(pieceName, siteJob)
    .optional()
    .describe('what is done in the vehicle, at marks by the names that stand beside them'),
  open: questions
    .optional()
    .describe('keys of this piece whose values are guesses, each with the reason'),
});

/** The schema of patterns/<set>/set.yaml. */
export const setSchema = z.strictObject({
  title: titleText,
  drawn: z.enum(hands),
  drawnBy: pieceName
    .optional()
    .describe('the customer who drew it: shared/customers says what their layers mean'),
  units: z.enum(['mm', 'cm', 'm', 'in']).optional().describe('of drawings that state none'),
  gap: gapSchema
    .optional()
    .describe(`mm between loose ends of outlines that are joined; ${defaultGap} if left out`),
  refit: refitSchema
    .optional()
    .describe('make lines and arcs of digitised outlines, at most so many mm off'),
  drawing: z.string().optional().describe('DXF with a block a piece'),
  pieces: z
    .record(pieceName, pieceSchema)
    .refine((pieces) => Object.keys(pieces).length > 0, 'a set has at least one piece'),
  pile: pile.optional().describe('where the pile leans in the vehicle: a word or degrees'),
  at: vehiclePlace
    .optional()
    .describe(
      'mm, where the origins of all blocks lie that do not say it: [0, 0] if drawn in place',
    ),
  edge: z
    .enum(edgeKinds)
    .optional()
    .describe('what every stretch is that no line traces, on pieces that do not say it'),
  front: frontSchema
    .optional()
    .describe('on all pieces: where the front of the vehicle is as they are drawn'),
  binding: pieceName.optional().describe('the tape: a file in shared/bindings'),
  uses: z
    .strictObject({
      carpet: pieceName.optional(),
      pad: pieceName.optional(),
      board: pieceName.optional(),
      underlay: pieceName.optional(),
    })
    .optional()
    .describe('the usual material of each use: pieces name the use, and orders may choose another'),
  groups: z
    .record(pieceName, z.array(pieceName).min(1))
    .optional()
    .describe('pieces that are ordered together, by a name'),
  options: z
    .record(optionName, optionSchema)
    .optional()
    .describe('what the vehicle may have: layers say what goes with it'),
  ease: z.number().min(0).max(50).default(3).describe('mm by which two edges of a seam may differ'),
  seams: z.array(seam).default([]).describe('edges that are sewn together'),
  layers: layerFileSchema
    .optional()
    .describe(
      'layers of this set’s drawings: ROLE, ROLE-FOLLOWS or ROLE-WITH-OPTION for each, before the shop’s',
    ),
  unused: z
    .array(z.string().min(1))
    .optional()
    .describe('blocks of the drawing that no piece is read from, on purpose'),
  open: questions
    .optional()
    .describe('keys of the set whose values are guesses, each with the reason'),
});

export type SetContent = z.infer<typeof setSchema>;
export type PieceEntry = SetContent['pieces'][string];
