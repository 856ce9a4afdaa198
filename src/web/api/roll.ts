import { z } from 'zod';
import { rollSchema } from '../../run/run-file.ts';

/** A roll that the shop is to remember. */
export const keptRollSchema = z.strictObject({ material: z.string(), roll: rollSchema });

export type KeptRoll = Readonly<z.infer<typeof keptRollSchema>>;
