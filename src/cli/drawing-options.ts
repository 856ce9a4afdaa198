import type { Options } from 'yargs';
import type { Units } from '../drawing/drawing.ts';
import { defaultGap, gapSchema, refitSchema } from '../pattern/outlines/outlines.ts';
import { checkNumber } from './numbers.ts';

/** How a drawing is to be read: the options of all commands that begin with one. */
export interface DrawingArguments {
  units: Units | undefined;
  gap: number;
  refit: number | undefined;
}

export const drawingOptions = {
  units: {
    choices: ['mm', 'cm', 'm', 'in'] as const,
    describe: 'units of the drawing, whatever it says itself',
  },
  gap: {
    type: 'number',
    default: defaultGap,
    requiresArg: true,
    describe: 'mm between loose ends that are joined',
  },
  refit: {
    type: 'number',
    requiresArg: true,
    describe: 'make lines and arcs of digitised outlines, at most so many mm off',
  },
} as const satisfies Record<string, Options>;

/** Throws a Refusal if a number is out of its bounds. */
export function checkDrawingNumbers({ gap, refit }: DrawingArguments): void {
  checkNumber('gap', gapSchema, gap);
  checkNumber('refit', refitSchema, refit);
}
