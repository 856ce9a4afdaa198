import type { Cutter } from '../../knife/cutter.ts';
import { faceOf, hasPile } from '../../pattern/shop/face.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { KnifePath } from '../../knife/moves.ts';
import type { CuttingPlan } from '../../knife/plan.ts';
import { biteName } from '../../lay/bites.ts';
import { layName } from '../../lay/lay.ts';
import { cutterDxf } from './cutter-dxf.ts';
import type { ProgramHeader } from './header.ts';
import { sizeLines } from './header.ts';
import { checkOwnLines, programText } from './write.ts';

/** What the programs of a lay say at their top, besides what the lay and the way of the knife say. */
export interface FilesHeader extends Omit<ProgramHeader, 'lines' | 'bite' | 'face'> {
  /** The material itself, for which side of it is its face. */
  readonly of: Pick<Material, 'kind' | 'turns'>;
}

/**
 * The files of a lay that a cutter reads, by their names: its drawing, the whole program, the dry
 * program, and, if there are several bites, a program for each. Programs come in pieces that are made
 * when they are asked for.
 */
export function cutterFiles(
  plan: CuttingPlan,
  cutter: Cutter,
  { of, ...header }: FilesHeader,
): Map<string, string | Iterable<string>> {
  // Checked here, because the programs below are only made when they are written.
  checkOwnLines(cutter);
  const { lay, parts, bites, path, single } = plan;
  const name = layName(lay);
  const program = (
    way: KnifePath,
    kind: 'cut' | 'dry',
    bite?: ProgramHeader['bite'],
  ): Iterable<string> => {
    const own = {
      ...header,
      face: faceOf(of),
      lines: sizeLines(lay, way, hasPile(of)),
      ...(bite === undefined ? {} : { bite }),
    };
    return { [Symbol.iterator]: () => programText(way, cutter, own, kind) };
  };
  return new Map<string, string | Iterable<string>>([
    [`${name}.dxf`, cutterDxf(lay, parts, cutter, bites)],
    [`${name}.nc`, program(path, 'cut')],
    [`${name}.dry.nc`, program(path, 'dry')],
    ...single.map((one, i): [string, Iterable<string>] => [
      `${name}.${biteName(i + 1, bites.length)}.nc`,
      program(one, 'cut', { number: i + 1, of: bites.length, fed: bites[i]!.start }),
    ]),
  ]);
}
