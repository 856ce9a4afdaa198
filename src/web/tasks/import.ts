import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import type { Units } from '../../drawing/drawing.ts';
import { importSet } from '../../jobs/import.ts';
import { questionsAbout, questionsAboutSet } from '../../pattern/first-look/first-file.ts';
import { defaultGap } from '../../pattern/outlines/outlines.ts';
import type { SetFromDrawing } from '../api/sets.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn } from '../workshop/workshop.ts';

interface ImportWish {
  readonly shop: Workshop;
  readonly set: string;
  readonly drawing: Uint8Array;
  readonly units: Units | null;
}

/**
 * Makes a first set of a drawing that was sent; it is read as any other drawing is. Throws a Refusal
 * where it cannot be read.
 */
export function importDrawing({ shop, set, drawing, units }: ImportWish): SetFromDrawing {
  const folder = placeIn(shop.patterns, set);
  // It is kept beside the sets for a moment, so that nothing is written outside the workshop.
  const sent = mkdtempSync(join(shop.patterns, '.sent-'));
  const file = join(sent, `${set}.dxf`);
  try {
    writeFileSync(file, drawing);
    const { set: made, findings } = importSet({
      file,
      folder,
      sharedFolder: shop.shared,
      units: units ?? undefined,
      drawn: undefined,
      gap: defaultGap,
      refit: undefined,
    });
    return {
      set,
      title: made.title.value,
      asked: questionsAboutSet(made),
      pieces: made.pieces.map((piece) => ({
        name: piece.name,
        side: piece.side.value,
        quantity: piece.quantity,
        material: piece.material.value,
        asked: questionsAbout(piece),
      })),
      findings: findings.map((one) => named(one, file)),
    };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    throw new Refusal(error.findings.map((one) => named(one, file)));
  } finally {
    rmSync(sent, { recursive: true, force: true, maxRetries: 3 });
  }
}

/**
 * The finding without the place where the drawing was kept for a moment, which means nothing to whoever
 * sent it. The line in the drawing stays.
 */
function named(finding: Finding, file: string): Finding {
  const { file: place, ...where } = finding.where;
  return place === file ? { ...finding, where } : finding;
}
