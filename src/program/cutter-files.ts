import type { Cutter } from '../knife/cutter.ts';
import type { CuttingPlan } from '../knife/plan.ts';
import { layName } from '../lay/lay.ts';
import { cutterDxf } from './cutter-dxf.ts';
import type { ProgramHeader } from './write.ts';
import { writeProgram } from './write.ts';

/**
 * The files that a cutter reads of a lay, by their names: its drawing, the program of the whole, the
 * dry one, and where there are several bites a program of each.
 */
export function cutterFiles(
  plan: CuttingPlan,
  cutter: Cutter,
  header: ProgramHeader,
): Map<string, string> {
  const { lay, parts, bites, path, single } = plan;
  const name = layName(lay);
  return new Map([
    [`${name}.dxf`, cutterDxf(lay, parts, cutter, bites)],
    [`${name}.nc`, writeProgram(path, cutter, header, 'cut')],
    [`${name}.dry.nc`, writeProgram(path, cutter, header, 'dry')],
    ...single.map((one, i): [string, string] => [
      `${name}.bite-${i + 1}.nc`,
      writeProgram(one, cutter, header, 'cut'),
    ]),
  ]);
}
