import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { z } from 'zod';
import { compareFiles } from '../compare/compare.ts';
import { overlayPicture } from '../papers/pictures/compare/overlay.ts';
import { comparisonJson, comparisonLines } from '../compare/table.ts';
import type { Units } from '../drawing/drawing.ts';
import { readLayerMap } from '../pattern/layers.ts';
import { checkFileTarget, publishFile } from '../publishing/publish-file.ts';
import type { Command } from './command.ts';
import { drawingOptions } from './drawing-options.ts';
import { checkNumber } from './numbers.ts';

interface CompareArguments {
  before: string;
  after: string;
  tolerance: number;
  units: Units | undefined;
  shared: string | undefined;
  json: boolean;
  svg: string | undefined;
  force: boolean;
}

export const compareCommand: Command<CompareArguments> = {
  command: 'compare <before> <after>',
  describe: 'what tells two drawings, programs, sets or runs apart: geometry, not text',
  builder: (args) =>
    args
      .positional('before', {
        type: 'string',
        demandOption: true,
        describe: 'a DXF, a program, a set’s folder or a run folder',
      })
      .positional('after', { type: 'string', demandOption: true, describe: 'another of its kind' })
      .option('tolerance', {
        type: 'number',
        default: 0.01,
        requiresArg: true,
        describe: 'mm within which geometry is the same',
      })
      .option('units', drawingOptions.units)
      .option('shared', {
        type: 'string',
        describe:
          'folder of layers and bindings; ../../shared from either set’s folder if left out',
      })
      .option('json', { type: 'boolean', default: false, describe: 'as JSON, in mm' })
      .option('svg', {
        type: 'string',
        requiresArg: true,
        describe: 'also draw both over each other into this file',
      })
      .option('force', { type: 'boolean', default: false, describe: 'write over that file' })
      .example(
        '$0 compare out/monday out/tuesday --svg out/change.svg',
        'exit code 0: equal; 1: not',
      ),
  run: ({ before, after, tolerance, units, shared, json, svg, force }, { say }) => {
    checkNumber('tolerance', z.number().min(0).max(100), tolerance);
    if (svg !== undefined) checkFileTarget(svg, '.svg', force);
    const { comparison, inputs } = compareFiles(before, after, {
      tolerance,
      sharedFolder: shared === undefined ? sharedBeside([before, after]) : resolve(shared),
      map: shared === undefined ? new Map() : readLayerMap(resolve(shared)),
      ...(units === undefined ? {} : { units }),
    });
    if (svg !== undefined && inputs !== null)
      publishFile(svg, overlayPicture(comparison, ...inputs));
    if (json) say(comparisonJson(comparison));
    else for (const line of comparisonLines(comparison)) say(line);
    return comparison.differences.length > 0 ? 1 : 0;
  },
};

/**
 * The shared folder of the workshop in which one of the sets lies, or else of the one in which the
 * command was started.
 */
function sharedBeside(sets: readonly string[]): string {
  const folders = [...sets.map((set) => join(set, '../../shared')), 'shared'];
  return resolve(folders.find((folder) => existsSync(folder)) ?? folders[0]!);
}
