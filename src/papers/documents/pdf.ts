import { createRequire } from 'node:module';
import { zlibSync } from 'fflate';
import type { Font } from 'fontkit';
import { openSync } from 'fontkit';
import PdfWriter from 'pdfkit';
import { wrapped } from '../svg/wrap.ts';
import { fromPoints, toPoints } from './points.ts';

/**
 * A PDF that is being written. Lengths in the interface of this file are in mm, from the top left, unless
 * it says points.
 */
export type Pdf = PDFKit.PDFDocument;

const { resolve } = createRequire(import.meta.url);

/**
 * The font file of each face. `rest` has nearly all characters of Unicode's first plane, but is coarse
 * and has only one weight.
 */
const faces = {
  plain: resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
  bold: resolve('dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf'),
  rest: resolve('@fontsource/unifont/files/unifont-latin-400-normal.woff'),
} as const;

type Face = keyof typeof faces;

/** The date in all files: they must be the same whenever they are made. */
const noTime = new Date(0);

/** The faces whose files have been read. */
const opened = new Map<Face, Font>();

/**
 * Internal fields of the PDF writer. They are no public interface, so the version of the package is
 * pinned.
 */
interface Reference {
  readonly data: Record<string, unknown>;
  buffer: Uint8Array[];
  finalize: () => void;
}

interface EmbeddedFace {
  readonly font: Font;
  /** The glyphs of each word that was drawn, with their places. */
  layoutCache: Record<string, unknown>;
}

type Embed = new (pdf: Pdf, font: Font, id: string) => EmbeddedFace;

/**
 * The class with which the writer embeds a face. It is only known after a face has been embedded once.
 */
let embed: Embed | undefined;

/** The words that were drawn in each face, of all papers: these use the same words. */
const drawnWords = new Map<Face, Record<string, unknown>>();

/** When a paper begins, so many drawn words of a face are known at most. */
const mostDrawn = 5000;

/**
 * A writer that gives the same bytes on every machine. It compresses with a library of its own, because
 * the compression in Node depends on the processor. It also reads each font file, and sets each word, only
 * once and not once for each paper: that would take most of the time of all papers.
 */
class RepeatablePdf extends PdfWriter {
  override ref(data: object): PDFKit.PDFKitReference {
    const reference = super.ref(data) as PDFKit.PDFKitReference & Reference;
    const finish = reference.finalize.bind(reference);
    reference.finalize = () => {
      if (reference.buffer.length > 0 && reference.data['Filter'] === undefined) {
        // A higher level takes twice as long and saves a fiftieth.
        reference.buffer = [zlibSync(Buffer.concat(reference.buffer), { level: 4 })];
        reference.data['Filter'] = 'FlateDecode';
      }
      finish();
    };
    return reference;
  }

  override font(face: Face): this {
    this.embedKnown(face);
    super.font(face);
    const current = Reflect.get(this, '_font') as EmbeddedFace;
    embed ??= current.constructor as Embed;
    opened.set(face, current.font);
    const known = drawnWords.get(face);
    if (known === undefined) drawnWords.set(face, current.layoutCache);
    else current.layoutCache = known;
    return this;
  }

  private embedKnown(face: Face): void {
    const families = Reflect.get(this, '_fontFamilies') as Record<string, EmbeddedFace>;
    const known = opened.get(face);
    if (families[face] !== undefined || known === undefined || embed === undefined) return;
    const count = (Reflect.get(this, '_fontCount') as number) + 1;
    Reflect.set(this, '_fontCount', count);
    families[face] = new embed(this as unknown as Pdf, known, `F${count}`);
  }
}

/** Begins a PDF whose pages are `size` mm large. It has no page yet. */
export function beginPdf(title: string, size: readonly [width: number, height: number]): Pdf {
  const pdf = new RepeatablePdf({
    autoFirstPage: false,
    bufferPages: true,
    compress: false,
    // There is no default face, because every text names its own.
    font: '',
    size: size.map(toPoints) as [number, number],
    margin: 0,
    lang: 'en',
    info: {
      Title: title,
      Producer: 'pileway',
      Creator: 'pileway',
      CreationDate: noTime,
      ModDate: noTime,
    },
  });
  for (const [face, file] of Object.entries(faces)) pdf.registerFont(face, file);
  for (const [face, words] of drawnWords) {
    if (Object.keys(words).length > mostDrawn) drawnWords.delete(face);
  }
  return pdf;
}

/** Ends a PDF and returns its bytes. */
export async function bytesOf(pdf: Pdf): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise((done) => pdf.on('end', done));
  pdf.end();
  await ended;
  return Buffer.concat(chunks);
}

/** A part of a text that one face can show. */
interface FaceStretch {
  readonly face: Face;
  readonly text: string;
}

/**
 * Characters that are not seen, for example those that change the direction of writing. They have no use
 * in these papers.
 */
const unseen = /[\p{Cc}\p{Cf}\p{Surrogate}\p{Co}\p{Cn}]/gu;

/**
 * Divides a text by the faces that can show it. A character that no face can show is written as its
 * number.
 */
export function runsOfText(text: string, bold: boolean): FaceStretch[] {
  const own: Face = bold ? 'bold' : 'plain';
  const runs: FaceStretch[] = [];
  const add = (face: Face, more: string): void => {
    const last = runs.at(-1);
    if (last?.face === face) runs[runs.length - 1] = { face, text: last.text + more };
    else runs.push({ face, text: more });
  };
  for (const character of text.replaceAll(/\s/g, ' ').replaceAll(unseen, '\uFFFD')) {
    const code = character.codePointAt(0)!;
    const face = ([own, 'rest'] as const).find((one) => hasGlyph(one, code));
    if (face === undefined) add(own, `[U+${code.toString(16).toUpperCase()}]`);
    else add(face, character);
  }
  return runs;
}

/**
 * Whether a face has a character. Latin letters need not be looked up, so the coarse face is not loaded
 * for them.
 */
function hasGlyph(face: Face, code: number): boolean {
  if (face !== 'rest' && code < 0x180) return true;
  return glyphsOf(face).hasGlyphForCodePoint(code);
}

/** The font of a face. It is read only once. */
function glyphsOf(face: Face): Font {
  const font = opened.get(face) ?? (openSync(faces[face]) as Font);
  opened.set(face, font);
  return font;
}

/** Widths of words in units of their font, by face and word. They are kept because papers use the same words often. */
const widths = new Map<string, number>();
const mostKept = 50_000;

/** The width of a text in type of `size` points, mm. */
export function widthOfText(text: string, size: number, bold = false): number {
  const width = runsOfText(text, bold).reduce((sum, run) => sum + widthOfRun(run), 0);
  return fromPoints(width * size);
}

/**
 * The width in type of one point. It is measured with the font, because a PDF would record that it was
 * asked; and word by word, each with the space behind it, as it is drawn.
 */
export function widthOfRun({ face, text }: FaceStretch): number {
  const units = text.split(/(?<= )/).reduce((sum, word) => sum + widthOfWord(face, word), 0);
  return units / glyphsOf(face).unitsPerEm;
}

function widthOfWord(face: Face, word: string): number {
  const key = `${face} ${word}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  const width = glyphsOf(face).layout(word).advanceWidth;
  if (widths.size >= mostKept) widths.clear();
  widths.set(key, width);
  return width;
}

/** The height of a line in type of `size` points, mm. */
export function lineHeight(size: number): number {
  return fromPoints(1.32 * size);
}

export interface Type {
  /** In points. */
  readonly size: number;
  readonly bold?: boolean;
  readonly colour?: string;
}

/** How the PDF writer draws a text where it is told to, in the face and size that are set. */
type DrawFragment = (this: Pdf, text: string, x: number, y: number, options: object) => void;

/**
 * Draws a text of one face on its baseline, in points or in the unit of a picture. The writer would measure each text
 * twice, for links and for what follows: nothing here needs that, and it takes as long as to draw it.
 */
export function drawRun(
  pdf: Pdf,
  text: string,
  x: number,
  baseline: number,
  pen: { readonly fill?: boolean; readonly stroke?: boolean } = {},
): void {
  const options = { fill: true, ...pen, baseline: 'alphabetic', textWidth: 0, wordCount: 1 };
  (Reflect.get(pdf, '_fragment') as DrawFragment).call(pdf, text, x, baseline, options);
}

/** Draws one line of text, its top at y and its left at x, mm. */
export function drawLine(pdf: Pdf, text: string, x: number, y: number, type: Type): void {
  const { size, bold = false, colour = ink } = type;
  const baseline = toPoints(y) + 1.02 * size;
  let at = toPoints(x);
  const runs = runsOfText(text, bold);
  for (const [i, run] of runs.entries()) {
    pdf.font(run.face).fontSize(size).fillColor(colour);
    drawRun(pdf, run.text, at, baseline);
    if (i < runs.length - 1) at += size * widthOfRun(run);
  }
}

export const ink = '#1b1b1b';
export const softInk = '#55514a';
export const ruleInk = '#b9b4aa';
export const accentInk = '#7a2e1d';

/**
 * Divides a text into lines that are no wider than `width` mm. A text without words gives one empty line,
 * which takes its space.
 */
export function linesOfText(text: string, width: number, { size, bold }: Type): string[] {
  const lines = wrapped(text, width, (line) => widthOfText(line, size, bold));
  return lines.length === 0 ? [''] : lines;
}

/** A text that fits into `width` mm; if it is too long it is cut off where a line may end, and ends in `…`. */
export function cutToWidth(text: string, width: number, type: Type): string {
  if (widthOfText(text, type.size, type.bold) <= width) return text;
  const [kept = ''] = linesOfText(text, width - widthOfText('…', type.size, type.bold), type);
  return `${kept}…`;
}

/** A straight rule, `weight` mm thick. */
export function drawRule(
  pdf: Pdf,
  [x0, y0]: readonly [number, number],
  [x1, y1]: readonly [number, number],
  weight: number,
  colour = ink,
): void {
  pdf
    .moveTo(toPoints(x0), toPoints(y0))
    .lineTo(toPoints(x1), toPoints(y1))
    .lineWidth(toPoints(weight))
    .undash()
    .strokeColor(colour)
    .stroke();
}
