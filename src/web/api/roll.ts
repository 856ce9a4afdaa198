import { z } from 'zod';
import { plainName } from '../../base/names.ts';
import { pieceName } from '../../pattern/set-file.ts';
import { rollSchema } from '../../run/run-file.ts';

/** A roll that the shop is to remember. */
export const keptRollSchema = z.strictObject({ material: pieceName, roll: rollSchema });

/** What is said besides of a roll that is to be forgotten. */
export const forgottenRollSchema = z.object({
  colour: plainName.optional().describe('left out: its material is kept in no colours'),
});

export type KeptRoll = Readonly<z.infer<typeof keptRollSchema>>;
