import { zlibSync } from 'fflate';
import { decimal } from '../../base/numbers.ts';
import { toPoints } from './points.ts';
import type { OwnPdf, PdfObject } from './own-pdf.ts';
import { piecesOfPage, referenceIn, sizeOfPage } from './own-pdf.ts';

/** A PDF to take pages from, and what it is called. */
export interface PdfSource {
  readonly file: string;
  readonly pdf: OwnPdf;
}

/** A piece of a page: its rectangle there, and where that comes to lie. mm from the top left of a page. */
export interface PagePiece {
  /** The number of the page, from 0. */
  readonly page: number;
  /** Which of the pieces of that page it is, from 0. */
  readonly piece: number;
  readonly from: { readonly x: number; readonly y: number };
  readonly to: { readonly x: number; readonly y: number };
  readonly width: number;
  readonly height: number;
}

/** A page of a joined PDF: one as it is, or pieces of pages put on an empty one of the same size. */
export type JoinedPage =
  | { readonly source: PdfSource; readonly page: number }
  | { readonly source: PdfSource; readonly pieces: readonly PagePiece[] };

/**
 * Joins pages of PDFs of pileway into one PDF: what is drawn on whole pages is taken over byte for byte, and of a
 * page in pieces only what draws those. The same pages give the same bytes. Throws a Refusal where one of them is not as pileway writes it.
 */
export function joinedPdf(title: string, pages: readonly JoinedPage[]): Uint8Array<ArrayBuffer> {
  const written: PdfObject[] = [];
  const add = (object: PdfObject): number => written.push(object);
  const tree = add({ says: '' });
  const copies = new Map<PdfSource, Copier>();
  const copier = (source: PdfSource): Copier => {
    const known = copies.get(source) ?? copierOf(source, written);
    copies.set(source, known);
    return known;
  };
  const kids = pages.map((one) =>
    add(
      'pieces' in one
        ? piecesPage(one.source, one.pieces, copier(one.source), tree, add)
        : wholePage(one.source, one.page, copier(one.source), tree),
    ),
  );
  const list = kids.map((kid) => `${kid} 0 R`).join(' ');
  written[tree - 1] = { says: `<<\n/Type /Pages\n/Count ${kids.length}\n/Kids [${list}]\n>>` };
  const root = add({ says: `<<\n/Type /Catalog\n/Pages ${tree} 0 R\n/Lang (en)\n>>` });
  const info = add({ says: `<<\n/Title ${hexText(title)}\n/Producer (pileway)\n>>` });
  return fileOf(written, root, info);
}

/** Copies what a page of one PDF needs into the joined one, each thing once, and gives its new number. */
interface Copier {
  readonly copy: (number: number) => number;
  /** What a dictionary says, with the new numbers of all that it names. */
  readonly renamed: (says: string) => string;
  /** A piece of a page as a form, which other pages can draw. */
  readonly form: (piece: PagePiece) => number;
}

function copierOf({ file, pdf }: PdfSource, written: PdfObject[]): Copier {
  const numbers = new Map<number, number>();
  const renamed = (says: string): string =>
    says.replaceAll(/(\d+) 0 R\b/g, (_, number) => `${copy(Number(number))} 0 R`);
  const copy = (number: number): number => {
    const known = numbers.get(number);
    if (known !== undefined) return known;
    const object = pdf.objects.get(number)!;
    const place = written.push(object);
    numbers.set(number, place);
    written[place - 1] = { ...object, says: renamed(object.says) };
    return place;
  };
  const drawnOn = new Map<number, string[]>();
  const form = ({ page, piece }: PagePiece): number => {
    const own = pdf.objects.get(pdf.pages[page]!)!;
    const drawn = drawnOn.get(page) ?? piecesOfPage(pdf, page, file);
    drawnOn.set(page, drawn);
    const resources = copy(referenceIn(own.says, 'Resources', file));
    const [width, height] = sizeOfPage(own, file);
    const stream = zlibSync(Buffer.from(drawn[piece]!, 'latin1'));
    const about = `/Type /XObject\n/Subtype /Form\n/BBox [0 0 ${width} ${height}]\n/Resources ${resources} 0 R`;
    return written.push({
      says: `<<\n${about}\n/Length ${stream.length}\n/Filter /FlateDecode\n>>`,
      stream,
    });
  };
  return { copy, renamed, form };
}

function wholePage({ pdf }: PdfSource, page: number, { renamed }: Copier, tree: number): PdfObject {
  const { says } = pdf.objects.get(pdf.pages[page]!)!;
  const [own, other] = [/\/Parent \d+ 0 R/, `/Parent ${tree} 0 R`];
  return { says: renamed(says.replace(own, '')).replace('<<\n', `<<\n${other}\n`) };
}

/** An empty page with pieces of others on it, each in its rectangle. */
function piecesPage(
  { file, pdf }: PdfSource,
  pieces: readonly PagePiece[],
  { form }: Copier,
  tree: number,
  add: (object: PdfObject) => number,
): PdfObject {
  const [width, height] = sizeOfPage(pdf.objects.get(pdf.pages[0]!)!, file);
  const points = (mm: number): string => decimal(toPoints(mm), 4);
  const drawn = pieces.map(({ from, to, width: wide, height: high }, i) => {
    const bottom = decimal(height - toPoints(to.y + high), 4);
    const clip = `${points(to.x)} ${bottom} ${points(wide)} ${points(high)} re W n`;
    const shift = `1 0 0 1 ${points(to.x - from.x)} ${points(from.y - to.y)} cm`;
    return `q ${clip} ${shift} /P${i} Do Q\n`;
  });
  const stream = new TextEncoder().encode(drawn.join(''));
  const contents = add({ says: `<<\n/Length ${stream.length}\n>>`, stream });
  const forms = pieces.map((piece, i) => `/P${i} ${form(piece)} 0 R`).join('\n');
  return {
    says: `<<\n/Type /Page\n/Parent ${tree} 0 R\n/MediaBox [0 0 ${width} ${height}]\n/Contents ${contents} 0 R\n/Resources <<\n/XObject <<\n${forms}\n>>\n>>\n>>`,
  };
}

/** A text as PDF writes any letters: UTF-16 with its byte order mark, in hex digits. */
function hexText(text: string): string {
  const units = Array.from({ length: text.length }, (_, i) => text.charCodeAt(i));
  return `<FEFF${units.map((unit) => unit.toString(16).padStart(4, '0')).join('')}>`;
}

/** The file: its objects, numbered from 1, and the table of where each begins. */
function fileOf(
  objects: readonly PdfObject[],
  root: number,
  info: number,
): Uint8Array<ArrayBuffer> {
  const chunks: Buffer[] = [];
  let length = 0;
  const put = (chunk: Buffer): void => {
    chunks.push(chunk);
    length += chunk.length;
  };
  const say = (text: string): void => put(Buffer.from(text, 'latin1'));
  say('%PDF-1.3\n%\u00FF\u00FF\u00FF\u00FF\n');
  const offsets = objects.map(({ says, stream }, i) => {
    const offset = length;
    say(`${i + 1} 0 obj\n${says}`);
    if (stream !== undefined) {
      say('\nstream\n');
      put(Buffer.from(stream));
      say('\nendstream');
    }
    say('\nendobj\n');
    return offset;
  });
  const table = length;
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`);
  say(`xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows.join('')}`);
  say(`trailer\n<<\n/Size ${objects.length + 1}\n/Root ${root} 0 R\n/Info ${info} 0 R\n>>\n`);
  say(`startxref\n${table}\n%%EOF\n`);
  return new Uint8Array(Buffer.concat(chunks));
}
