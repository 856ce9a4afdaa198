import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { importSet } from '../../jobs/import.ts';
import { questionsAbout, questionsAboutSet } from '../../pattern/first-look/first-file.ts';
import { defaultGap } from '../../pattern/outlines/outlines.ts';
import type { SetFromDrawing } from '../api/sets.ts';
import type { BeginWish } from '../api/sight.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn } from '../workshop/workshop.ts';

interface BeginRequest {
  readonly shop: Workshop;
  readonly set: string;
  readonly wish: BeginWish;
  readonly drawing: Uint8Array;
}

/**
 * Makes a first set of a drawing that was sent; it is read as any other drawing is. Throws a Refusal
 * where it cannot be read.
 */
export function importDrawing({ shop, set, wish, drawing }: BeginRequest): SetFromDrawing {
  const { name, gap = defaultGap, ...said } = wish;
  const { set: made, findings } = withoutFile(name, () =>
    importSet({
      ...said,
      units: said.units,
      drawn: said.drawn,
      gap,
      file: name,
      bytes: drawing,
      folder: placeIn(shop.patterns, set),
      sharedFolder: shop.shared,
    }),
  );
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
    findings,
  };
}

/**
 * Does something with a drawing that was sent, and takes the name of its file out of all findings: no such
 * file is in the workshop, and whoever sent it knows which it is. The line in the drawing stays.
 */
export function withoutFile<T extends { readonly findings: readonly Finding[] }>(
  file: string,
  work: () => T,
): T {
  const named = ({ where: { file: place, ...where }, ...finding }: Finding): Finding => ({
    ...finding,
    where: place === file || place === undefined ? where : { file: place, ...where },
  });
  try {
    const made = work();
    return { ...made, findings: made.findings.map(named) };
  } catch (error) {
    throw error instanceof Refusal ? new Refusal(error.findings.map(named)) : error;
  }
}
