import type { z } from 'zod';
import type { DeepReadonly } from '../../base/deep-readonly.ts';
import type {
  biteRecordSchema,
  layRecordSchema,
  orderRecordSchema,
  partRecordSchema,
  runRecordSchema,
} from './schema.ts';

/** What run.json holds; schema.ts says what each key means. */
export type RunRecord = DeepReadonly<z.infer<typeof runRecordSchema>>;
export type PartRecord = DeepReadonly<z.infer<typeof partRecordSchema>>;
export type LayRecord = DeepReadonly<z.infer<typeof layRecordSchema>>;
export type BiteRecord = DeepReadonly<z.infer<typeof biteRecordSchema>>;
export type OrderRecord = DeepReadonly<z.infer<typeof orderRecordSchema>>;
/** The run from which the parts of a recut come. */
export type RecutRecord = NonNullable<RunRecord['recutOf']>;

/** A closed contour, counter-clockwise, in the part's own frame: x, y in mm and bulge of each vertex. */
export type ContourRecord = PartRecord['cutContour'];
export type VertexRecord = ContourRecord[number];
/** Corners of a polygon, mm in the lay's frame. */
export type PolygonRecord = LayRecord['defects'][number];

/** The name with which the files of a recorded lay begin. */
export function recordedName({
  material,
  colour,
  roll,
}: Pick<LayRecord, 'material' | 'roll'> & {
  readonly colour?: string | null | undefined;
}): string {
  return [material, colour, roll].filter((word) => word !== undefined && word !== null).join('-');
}
