import { unzlibSync } from 'fflate';
import { refuse } from '../../base/findings.ts';

/** An object of a PDF: what it says, and the bytes that follow, as they stand in the file. */
export interface PdfObject {
  /** Its dictionary, with bytes as Latin-1. */
  readonly says: string;
  readonly stream?: Uint8Array;
}

/** A PDF of pileway that was read: its objects by their numbers, and those that are its pages, in order. */
export interface OwnPdf {
  readonly objects: ReadonlyMap<number, PdfObject>;
  readonly pages: readonly number[];
}

/**
 * Reads a PDF that pileway wrote; it reads no other, since those may be built in many more ways. `file` is what
 * it is called. Throws a Refusal where it is none.
 */
export function readOwnPdf(bytes: Uint8Array, file: string): OwnPdf {
  const text = new TextDecoder('latin1').decode(bytes);
  const objects = new Map(
    offsetsIn(text, file).map(([number, at]) => [number, objectAt(text, bytes, number, at, file)]),
  );
  const said = (number: number): string => objects.get(number)?.says ?? unreadable(file);
  const root = referenceIn(text.slice(text.lastIndexOf('trailer')), 'Root', file);
  const tree = said(referenceIn(said(root), 'Pages', file));
  const kids = /\/Kids \[([^\]]*)\]/.exec(tree)?.[1] ?? unreadable(file);
  const pages = [...kids.matchAll(/(\d+) 0 R/g)].map(([, number]) => Number(number));
  const isTrue = Number(/\/Count (\d+)/.exec(tree)?.[1]) === pages.length;
  if (!isTrue || pages.some((page) => !/\/Type \/Page\s/.test(said(page)))) unreadable(file);
  return { objects, pages };
}

/** The number of the object that a dictionary names under a key. */
export function referenceIn(says: string, key: string, file: string): number {
  const found = new RegExp(`/${key} (\\d+) 0 R`).exec(says)?.[1];
  return found === undefined ? unreadable(file) : Number(found);
}

/** The width and the height of a page, in points. */
export function sizeOfPage({ says }: PdfObject, file: string): [width: number, height: number] {
  const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(says);
  return box === null ? unreadable(file) : [Number(box[1]), Number(box[2])];
}

/** In what is drawn on a page: here begins something that can be taken off the page by itself. */
export const piecePoint = '/Piece MP';

/**
 * What draws each piece of a page by itself, in order: the page's own frame, then the piece. Throws a Refusal where
 * nothing is marked as a piece.
 */
export function piecesOfPage({ objects, pages }: OwnPdf, page: number, file: string): string[] {
  const drawn = objects.get(referenceIn(objects.get(pages[page]!)!.says, 'Contents', file))!;
  if (drawn.stream === undefined) return unreadable(file);
  const isPacked = drawn.says.includes('/Filter /FlateDecode');
  const bytes = isPacked ? unzlibSync(drawn.stream) : drawn.stream;
  const [frame, ...pieces] = new TextDecoder('latin1').decode(bytes).split(`${piecePoint}\n`);
  return pieces.length === 0 ? unreadable(file) : pieces.map((piece) => `${frame}${piece}`);
}

/** Where each object begins, from the table at the end of the file. */
function offsetsIn(text: string, file: string): [number: number, offset: number][] {
  const start = Number(/startxref\s+(\d+)\s+%%EOF\s*$/.exec(text)?.[1] ?? -1);
  const table = /^xref\n0 \d+\n((?:\d{10} \d{5} [nf] \n)+)/.exec(text.slice(Math.max(0, start)));
  if (start < 0 || table === null) return unreadable(file);
  return table[1]!
    .trimEnd()
    .split('\n')
    .flatMap((line, number): [number, number][] =>
      line.trimEnd().endsWith('n') ? [[number, Number(line.slice(0, 10))]] : [],
    );
}

function objectAt(
  text: string,
  bytes: Uint8Array,
  number: number,
  at: number,
  file: string,
): PdfObject {
  const head = `${number} 0 obj\n`;
  if (!text.startsWith(head, at)) return unreadable(file);
  const from = at + head.length;
  const end = text.indexOf('\nendobj', from);
  const begin = text.indexOf('\nstream\n', from);
  if (begin < 0 || begin > end) return { says: text.slice(from, end) };
  const says = text.slice(from, begin);
  const length = Number(/\/Length (\d+)/.exec(says)?.[1] ?? unreadable(file));
  const first = begin + '\nstream\n'.length;
  return { says, stream: bytes.subarray(first, first + length) };
}

function unreadable(file: string): never {
  return refuse('paper', `${file} is not as pileway writes a PDF.`, 'Make the files anew.', {
    file,
  });
}
