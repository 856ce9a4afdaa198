import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { readDrawing } from '../drawing/read.ts';
import { hasErrors, refuse, refuseErrors } from '../base/findings.ts';
import { decimal } from '../base/numbers.ts';
import { seenPicture } from '../papers/pictures/seen-picture.ts';
import { counted } from '../base/wording.ts';
import type { DrawingReport } from '../pattern/first-look/sight.ts';
import { describeDrawing } from '../pattern/first-look/describe.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { readLayerMap } from '../pattern/layers.ts';
import { checkFileTarget, publishFile } from '../publishing/publish-file.ts';
import type { Command } from './command.ts';
import { findingLines } from './print.ts';
import type { DrawingArguments } from './drawing-options.ts';
import { checkDrawingNumbers, drawingOptions } from './drawing-options.ts';
import { tableLines } from './table.ts';

interface ReadArguments extends DrawingArguments {
  file: string;
  shared: string | undefined;
  json: boolean;
  svg: string | undefined;
  force: boolean;
}

export const readCommand: Command<ReadArguments> = {
  command: 'read <file>',
  describe: 'what the tool sees in a DXF drawing, before any set exists',
  builder: (args) =>
    args
      .positional('file', { type: 'string', demandOption: true, describe: 'a DXF drawing' })
      .options(drawingOptions)
      .option('shared', { type: 'string', describe: 'folder with a layers.yaml to go by' })
      .option('json', { type: 'boolean', default: false, describe: 'as JSON, in mm' })
      .option('svg', {
        type: 'string',
        requiresArg: true,
        describe: 'also draw the pieces into this file',
      })
      .option('force', { type: 'boolean', default: false, describe: 'write over that file' })
      .example('$0 read patterns/fenlark/fenlark.dxf', 'a line for each piece')
      .example('$0 read scan.dxf --refit 0.1 --svg out/scan.svg', 'what became of a digitised one'),
  run: ({ file, units, gap, refit, shared, json, svg, force }, { say, warn }) => {
    if (svg !== undefined) checkFileTarget(svg, '.svg', force);
    checkDrawingNumbers({ units, gap, refit });
    const map = shared === undefined ? new Map() : layerMapOf(resolve(shared));
    const drawing = readDrawing(file, units === undefined ? {} : { units });
    // A drawing that cannot be read completely is as unusable as one that cannot be opened.
    refuseErrors(drawing.findings.filter(({ rule }) => rule === 'not-read'));
    const sight = describeDrawing(drawing, map, { gap, refit });
    const { report } = sight;
    if (svg !== undefined) publishFile(svg, seenPicture(sight));
    if (json) say(JSON.stringify(report, null, 2));
    else {
      for (const line of reportLines(report)) say(line);
      for (const line of findingLines(report.findings)) warn(line);
    }
    return hasErrors(report.findings) ? 1 : 0;
  },
};

/** Reads the layer file of a folder. It must exist, because the user has named the folder. */
function layerMapOf(folder: string): LayerMap {
  if (!existsSync(join(folder, 'layers.yaml'))) {
    refuse('layers', 'there is no layers.yaml here.', 'Name the folder that has it.', {
      file: folder,
    });
  }
  return readLayerMap(folder);
}

function reportLines({ file, units, unitsFrom, pieces }: DrawingReport): string[] {
  const header = ['piece', 'size mm', 'area m2', 'lines', 'arcs', 'inside', 'has', 'layers'];
  const rows = pieces.map((piece) => {
    const { name, nameFrom, outline, inner, features, half, layers, unknownLayers } = piece;
    const [x0, y0, x1, y1] = outline.bbox;
    const has = Object.entries(features).map(([role, count]) => `${count} ${role}`);
    return [
      `${name}${nameFrom === 'count' ? ' (no name)' : ''}${half ? ' (half drawn)' : ''}`,
      `${decimal(x1 - x0, 1)} x ${decimal(y1 - y0, 1)}`,
      (outline.area / 1e6).toFixed(4),
      String(outline.segments.lines),
      String(outline.segments.arcs),
      String(inner.length),
      has.join(', ') || '-',
      layers
        .map((layer) => (unknownLayers.includes(layer) ? `${layer} (unknown)` : layer))
        .join(' '),
    ];
  });
  const head = `${file}: units ${units} (${unitsFrom}), ${counted(pieces.length, 'piece')}`;
  return pieces.length === 0 ? [head] : [head, ...tableLines({ header, rows })];
}
