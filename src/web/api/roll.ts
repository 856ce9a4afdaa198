import { z } from 'zod';
import { pieceName } from '../../pattern/set-file.ts';
import { rollSchema } from '../../run/run-file.ts';

/** A roll that the shop is to remember. */
export const keptRollSchema = z.strictObject({ material: pieceName, roll: rollSchema });

export type KeptRoll = Readonly<z.infer<typeof keptRollSchema>>;
