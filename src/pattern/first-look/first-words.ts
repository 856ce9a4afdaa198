import { basename } from 'node:path';
import { capital, cutShort, shownNames } from '../../base/wording.ts';
import type { Drawing, TextEntity } from '../../drawing/drawing.ts';
import { isLabel } from '../labels.ts';
import type { Hand } from '../words.ts';
import type { Guess } from './first-side.ts';
import type { Sight } from './sight.ts';
import { handsIn, pileIn } from './side-words.ts';

const mostQuoted = 8;

/** Texts of a drawing in quotes, the first few of them. */
export function quotedTexts(texts: readonly string[]): string {
  const quoted = texts.map((text) => `"${text.replaceAll('"', '”')}"`);
  return shownNames(quoted, mostQuoted);
}

/**
 * The title of a set: the drawing's own, if one text that lies in no outline is larger than all others
 * there and reads like a title; otherwise the name of the set's folder.
 */
export function firstTitle(sight: Sight, folder: string): Guess {
  const drawn = titleDrawn(sight);
  if (drawn !== null) return { value: drawn, why: 'it is the largest text outside the pieces' };
  return { value: capital(folder.replaceAll('-', ' ')), why: 'it is the name of the folder' };
}

/** The text of a drawing that is larger than all others in no outline, and reads like a title; null: none. */
export function titleDrawn({ leftOut }: Sight): string | null {
  const texts = leftOut
    .filter((entity): entity is TextEntity => entity.kind === 'text')
    .map((entity) => ({ ...entity, text: withoutScale(entity.text) }))
    .filter(({ text }) => isTitle(text));
  const most = Math.max(...texts.map(({ height }) => height));
  const [title, ...more] = texts.filter(({ height }) => height > 0.99 * most);
  if (title === undefined || more.length > 0) return null;
  // Orders of both hands carry it on their papers.
  const words = title.text
    .replaceAll(/\b[RL]HD\b/gi, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  return words === '' ? null : cutShort(words, 100);
}

/** The hand that is drawn: as texts, blocks or the name of the file say, or else a mere guess. */
export function firstHand(drawing: Drawing): Guess {
  const [hand, ...more] = handsSaid(drawing);
  if (hand === undefined) {
    return { value: 'RHD', why: 'nobody said which hand is drawn' };
  }
  return more.length === 0
    ? { value: hand, why: `the drawing says ${hand} somewhere` }
    : {
        value: 'RHD',
        why: 'the drawing says RHD and LHD, and nobody said which is drawn',
      };
}

/** The hands of drive that texts, blocks or the name of the file name, each once. */
export function handsSaid({ entities, blocks, file }: Drawing): Hand[] {
  const texts = [...entities, ...blocks.flatMap((block) => block.entities)].flatMap((entity) =>
    entity.kind === 'text' ? [entity.text] : [],
  );
  return handsIn([basename(file), ...blocks.map((block) => block.name), ...texts].join('\n'));
}

/** A text that says where the pile leans. */
export interface PileText {
  readonly way: Exclude<ReturnType<typeof pileIn>, null>;
  readonly text: string;
}

/** The texts of a drawing that say where the pile leans. */
export function pileTexts({ leftOut, pieces }: Pick<Sight, 'leftOut' | 'pieces'>): PileText[] {
  return [...leftOut, ...pieces.flatMap(({ outline }) => outline.others)].flatMap((entity) => {
    const way = entity.kind === 'text' ? pileIn(entity.text) : null;
    return way === null ? [] : [{ way, text: (entity as TextEntity).text }];
  });
}

/** Where the pile leans: as texts of the drawing say, if they all say the same; otherwise rearward. */
export function firstPile(sight: Sight): Guess {
  const told = pileTexts(sight);
  const [first] = told;
  if (first === undefined) {
    return { value: 'rearward', why: 'no drawing says where the pile leans in the vehicle' };
  }
  if (told.every(({ way }) => way === first.way)) {
    return { value: first.way, why: `a text in the drawing says ${quotedTexts([first.text])}` };
  }
  const why = `texts in the drawing differ: ${quotedTexts(told.map(({ text }) => text))}`;
  return { value: 'rearward', why };
}

/** A text without the scale and the unit of the drawing, which often stand behind its title. */
function withoutScale(text: string): string {
  return text
    .replace(
      /[\s,;-]*\b(scale|full size)\b[\s:=]*(1\s*[:/]\s*1)?[\s,;-]*((mm|cm|inch(es)?)\b)?/i,
      ' ',
    )
    .trim();
}

function isTitle(text: string): boolean {
  const letters = text.match(/\p{L}/gu)?.length ?? 0;
  return letters >= 3 && !isLabel(text) && !/\b(scale|check|units|mm|cm|inch(es)?)\b/i.test(text);
}
