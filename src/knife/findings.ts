import type { Finding } from '../findings.ts';
import type { Part } from '../handing/part.ts';
import type { Material } from '../pattern/material.ts';
import { leftToBench, smallestRadius } from './cuttable.ts';
import type { Cutter } from './cutter.ts';

/** What this knife cannot do on these parts: a warning for each contour left to the bench, a note for each outline it only forces. */
export function knifeFindings(parts: readonly Part[], cutter: Cutter): Finding[] {
  return parts.flatMap((part) => [...benchFindings(part, cutter), ...tightOutline(part, cutter)]);
}

function benchFindings(part: Part, cutter: Cutter): Finding[] {
  return leftToBench(part, cutter).map(({ role, at, width, height, radius }) => ({
    severity: 'warning',
    rule: 'left-to-bench',
    message: `a ${role === 'HOLE' ? 'hole' : 'cutout'} of ${width.toFixed(1)} x ${height.toFixed(1)} mm has a radius of ${radius.toFixed(1)} mm; the knife of ${cutter.name} goes down to ${cutter.blade.smallestRadius} mm.`,
    todo: 'It is marked, not cut: punch it or cut it by hand.',
    where: { piece: part.piece, part: part.name, at },
  }));
}

function tightOutline(part: Part, cutter: Cutter): Finding[] {
  const radius = smallestRadius(part.cut);
  if (radius >= cutter.blade.smallestRadius) return [];
  return [
    {
      severity: 'note',
      rule: 'tight-outline',
      message: `the outline has a radius of ${radius.toFixed(1)} mm; the knife of ${cutter.name} follows ${cutter.blade.smallestRadius} mm truly.`,
      todo: 'It is cut all the same: look at that curve on the first part.',
      where: { piece: part.piece, part: part.name },
    },
  ];
}

/** Whether the machine's heights suit a material: the knife clears it when up and holds in it while it swivels. */
export function heightFindings(
  cutter: Cutter,
  material: Pick<Material, 'name' | 'thickness'>,
): Finding[] {
  const { name, thickness } = material;
  const { knife, heights } = cutter;
  const found: Finding[] = [];
  if (heights.travel <= thickness) {
    found.push({
      severity: 'error',
      rule: 'travel-height',
      message: `${cutter.name} travels at Z ${heights.travel}, but ${name} is ${thickness} mm thick: the raised knife would drag through it.`,
      todo: `Set heights.travel of the cutter above ${thickness} mm.`,
      where: {},
    });
  }
  if (knife.kind === 'trailing' && knife.swivelDepth >= thickness) {
    found.push({
      severity: 'error',
      rule: 'swivel-depth',
      message: `${cutter.name} swivels its tip at Z ${knife.swivelDepth}, above ${name} of ${thickness} mm: nothing would hold the tip.`,
      todo: `Set knife.swivelDepth of the cutter below ${thickness} mm.`,
      where: {},
    });
  }
  return found;
}
