import type { CommandModule } from 'yargs';
import type { Units } from '../drawing/drawing.ts';
import { readDrawing } from '../drawing/read.ts';
import { describeDrawing } from '../pattern/describe.ts';
import type { DrawingReport } from '../pattern/describe.ts';
import { hasErrors } from '../findings.ts';
import { findingLines, say, warn } from './print.ts';

interface Arguments {
  file: string;
  units: Units | undefined;
  json: boolean;
}

export const readCommand: CommandModule<object, Arguments> = {
  command: 'read <file>',
  describe: 'what the tool sees in a DXF drawing, before any set exists',
  builder: (args) =>
    args
      .positional('file', { type: 'string', demandOption: true, describe: 'a DXF drawing' })
      .option('units', {
        choices: ['mm', 'cm', 'm', 'in'] as const,
        describe: 'units of the drawing, whatever it says itself',
      })
      .option('json', { type: 'boolean', default: false, describe: 'as JSON, in mm' })
      .example('$0 read patterns/fenlark/fenlark.dxf', 'a line for each piece'),
  handler: ({ file, units, json }) => {
    const report = describeDrawing(readDrawing(file, units === undefined ? {} : { units }));
    if (json) say(JSON.stringify(report, null, 2));
    else {
      for (const line of tableLines(report)) say(line);
      for (const line of findingLines(report.findings)) warn(line);
    }
    if (hasErrors(report.findings)) process.exitCode = 1;
  },
};

function tableLines({ file, units, unitsFrom, pieces }: DrawingReport): string[] {
  const rows = pieces.map(({ name, outline, inner, layers }) => {
    const [x0, y0, x1, y1] = outline.bbox;
    const size = `${(x1 - x0).toFixed(1)} x ${(y1 - y0).toFixed(1)} mm`;
    const area = `${(outline.area / 1e6).toFixed(4)} m2`;
    return `${name.padEnd(24)} ${size.padStart(22)} ${area.padStart(12)}  ${inner.length} inside  ${layers.join(' ')}`;
  });
  return [`${file}: units ${units} (${unitsFrom}), ${pieces.length} pieces`, ...rows];
}
