import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Drawing, Units } from '../drawing/drawing.ts';
import { readDrawingBytes } from '../drawing/read.ts';
import type { Finding } from '../base/findings.ts';
import { hasErrors, refuse, refuseErrors } from '../base/findings.ts';
import { titleText, whyNotPortable } from '../base/names.ts';
import { readBytes } from '../base/yaml.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { namesIn } from '../base/named-file.ts';
import type { SaidOfLayers } from '../pattern/first-look/answers.ts';
import { drawnLayers, layerAnswers } from '../pattern/first-look/answers.ts';
import { describeDrawing } from '../pattern/first-look/describe.ts';
import { firstSetFile } from '../pattern/first-look/first-file.ts';
import { firstOptions } from '../pattern/first-look/first-options.ts';
import { firstHand, firstPile, firstTitle } from '../pattern/first-look/first-words.ts';
import type { FirstSet } from '../pattern/first-look/first-set.ts';
import {
  blocksOf,
  doubtOf,
  firstPieces,
  layersWithInner,
  leftOutOf,
  outlineLayersOf,
} from '../pattern/first-look/first-set.ts';
import type { Guess } from '../pattern/first-look/first-side.ts';
import type { OwnLayers } from '../pattern/first-look/own-layers.ts';
import { ownLayerNames } from '../pattern/first-look/own-layers.ts';
import type { Sight } from '../pattern/first-look/sight.ts';
import { splitLayers } from '../pattern/first-look/split-layers.ts';
import { placesWords } from '../pattern/first-look/strays.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { numberedRole, ownLayers, readLayerMap } from '../pattern/layers.ts';
import type { OutlineOptions } from '../pattern/outlines/outlines.ts';
import { pieceName } from '../pattern/set-file.ts';
import { readSetFiles, setsToTry } from '../pattern/set.ts';
import { readCustomerLayers } from '../pattern/shop/customer.ts';
import type { Hand } from '../pattern/words.ts';
import { shortLayers, writeSetDrawing } from '../pattern/write-set.ts';
import { publishAtOnce } from '../publishing/publish.ts';
import { rememberLayers } from './remember-layers.ts';

export interface ImportRequest extends OutlineOptions {
  /** The drawing: where it lies, or its name where its bytes are given. */
  readonly file: string;
  /** What the drawing holds; left out: what lies under its name. */
  readonly bytes?: Uint8Array | undefined;
  /** The folder to make for the set; it must not exist yet. */
  readonly folder: string;
  readonly sharedFolder: string;
  readonly units: Units | undefined;
  /** The hand that is drawn. undefined: nobody said, and the drawing or else a guess does. */
  readonly drawn: Hand | undefined;
  /** The title of the set. undefined: nobody said. */
  readonly title?: string | undefined;
  /** What somebody has said of layers of the drawing. */
  readonly layers?: SaidOfLayers;
  /** The customer who drew it: shared/customers says what layers of theirs mean. */
  readonly drawnBy?: string | undefined;
  /** Those among `layers` that are so in all drawings of that customer; `all`: each of them. */
  readonly forCustomer?: readonly string[] | 'all';
}

export interface Imported {
  readonly set: FirstSet;
  readonly findings: readonly Finding[];
}

/**
 * Makes a first set from a drawing: set.yaml, a drawing in mm in which each piece found is a block, on
 * layers named after their roles or, if somebody has said what they are, on their own; and beside them the
 * drawing as it came, byte for byte. They are read again and compared with what was found before they get
 * their names. What is so in all drawings of the customer goes into shared/customers just before that.
 * Throws a Refusal if the drawing has errors, no piece or no units, if the folder exists, or if what is
 * said cannot be; then nothing is written.
 */
export function importSet(request: ImportRequest): Imported {
  const { file, folder, sharedFolder, units, drawn, drawnBy, gap, refit } = request;
  const name = basename(folder);
  checkNames(name, request);
  const bytes = request.bytes ?? readBytes(file, 'drawing');
  const drawing = readDrawingBytes(bytes, file, units === undefined ? {} : { units });
  const drawnOn = drawnLayers(drawing);
  const answers = layerAnswers(request.layers ?? [], drawnOn);
  const kept = customerThen(readCustomerLayers(sharedFolder, drawnBy), answers);
  const remembered = rememberedOf(request, answers);
  const map: LayerMap = new Map([...readLayerMap(sharedFolder), ...kept]);
  const sight = describeDrawing(drawing, map, { gap, refit });
  const { report, pieces: seen } = sight;
  refuseErrors(report.findings);
  const assumed = report.findings.find(({ rule }) => rule === 'units-assumed');
  if (assumed !== undefined) {
    refuse('units-assumed', assumed.message, 'Say so with --units mm or --units in.', { file });
  }
  const split = splitLayers(sight, map);
  const onPieces = [...drawnOn, ...layersSeen(sight), ...split.values()];
  const layers = ownLayerNames(layersWithInner(onPieces, sight), map, kept);
  const pieces = firstPieces(sight, map, layers, namesIn(join(sharedFolder, 'materials')), split);
  const leftOut = leftOutOf(sight, map, layers);
  const full = [...blocksOf(pieces), ...(leftOut === null ? [] : [leftOut])];
  const { blocks, layers: shortened } = shortLayers(full);
  const meanings = keptMeanings(drawnOn, layers, kept);
  const set: FirstSet = {
    title: titleOf(request, sight, name),
    hand: drawn === undefined ? firstHand(drawing) : { value: drawn, why: null },
    pile: firstPile(sight),
    drawing: `${name}.dxf`,
    pieces,
    options: firstOptions(
      pieces.flatMap(({ entities }) => entities),
      meanings,
    ),
    shortened,
    leftOut: leftOutWords(sight, drawing),
    numbered: numberedWords(drawnOn, map),
    outlineLayers: outlineLayersOf(sight, layers),
    doubt: doubtOf(sight, layers),
    answers: new Map([...meanings].filter((one) => !isOfCustomer(one, sharedFolder, request))),
    drawnBy: drawnBy ?? null,
  };
  const files = new Map<string, string | Uint8Array>([
    ['set.yaml', firstSetFile(set)],
    [set.drawing, writeSetDrawing(blocks, new Map([...shortened, ...meanings]))],
    [`received/${receivedName(file)}`, bytes],
  ]);
  const areas = new Map(
    pieces.map((piece, i) => {
      const { area } = seen[i]!.report.outline;
      return [piece.name, piece.half === null ? area : 2 * area];
    }),
  );
  publishAtOnce([folder, null, false], files, (partial) => {
    const wrong = proofOf(partial, sharedFolder, areas);
    // Last of all: a set that is not made leaves nothing behind.
    if (!hasErrors(wrong)) rememberLayers(sharedFolder, drawnBy, remembered);
    return wrong;
  });
  return { set, findings: report.findings };
}

/** Refuses names that nothing may have, and a set that is there already. */
function checkNames(
  name: string,
  { folder, title, drawnBy, forCustomer = [] }: ImportRequest,
): void {
  const plain = 'Use small letters, digits and hyphens.';
  if (!pieceName.safeParse(name).success) {
    refuse('argument', `--set ${name} is no name for a set.`, plain);
  }
  if (drawnBy !== undefined && !pieceName.safeParse(drawnBy).success) {
    refuse('argument', `"${drawnBy}" is no name for a customer here.`, plain);
  }
  if (drawnBy === undefined && forCustomer.length > 0) {
    const message =
      'something is to hold for all drawings of a customer, and no customer is named.';
    refuse('argument', message, 'Name the customer (--customer).');
  }
  if (title !== undefined && !titleText.safeParse(title).success) {
    refuse('argument', 'this title is empty or too long.', 'Use at most 100 letters.');
  }
  if (existsSync(folder)) {
    const todo = 'Name another set; what is written in a set by hand is not written over.';
    refuse('target', 'this set exists already.', todo, { file: folder });
  }
}

/** The layers of what lies on the pieces: some are kept on layers of their own. */
function layersSeen({ pieces }: Sight): string[] {
  return pieces.flatMap(({ outline }) => outline.others.map(({ layer }) => layer));
}

function titleOf({ title }: ImportRequest, sight: Sight, name: string): Guess {
  return title === undefined ? firstTitle(sight, name) : { value: title, why: null };
}

/** What layers mean: what is said of this drawing wins. */
function customerThen(customer: Readonly<Record<string, string>>, answers: LayerMap): LayerMap {
  return new Map([...ownLayers(new Map(), customer), ...answers]);
}

/** The answers that are so in all drawings of the customer. */
function rememberedOf({ forCustomer = [] }: ImportRequest, answers: LayerMap): LayerMap {
  if (forCustomer === 'all') return answers;
  const wanted = new Set(forCustomer.map((layer) => layer.toUpperCase()));
  return new Map([...answers].filter(([layer]) => wanted.has(layer)));
}

/** The layers that keep their names in the drawing of the set, under these, and what they mean. */
function keptMeanings(drawn: readonly string[], layers: OwnLayers, kept: LayerMap): LayerMap {
  return new Map(
    drawn
      .filter((layer) => layers.isKept(layer))
      .map((layer) => [layers.nameOf(layer), kept.get(layer.toUpperCase())!]),
  );
}

/** Whether the customer's file says it already, for this very name: then the set need not. */
function isOfCustomer(
  [layer, means]: readonly [string, string],
  sharedFolder: string,
  { drawnBy }: ImportRequest,
): boolean {
  const known = ownLayers(new Map(), readCustomerLayers(sharedFolder, drawnBy));
  return known.get(layer)?.toUpperCase() === means.toUpperCase();
}

/** The name under which a drawing is kept as it came: its own, if every system takes it. */
function receivedName(file: string): string {
  const own = file.split(/[/\\]/).at(-1)!;
  const ended = /\.dxf$/i.test(own) ? own : `${own}.dxf`;
  return whyNotPortable(ended) === null ? ended : 'drawing.dxf';
}

/** Rules of findings on things of a drawing that are not read at all. */
const unread: ReadonlySet<string> = new Set(['hidden', 'left-out', 'block-left-out']);

/** What lies in no outline or was not read, in words; null: nothing. */
function leftOutWords({ leftOut }: Sight, { findings, file }: Drawing): string | null {
  const texts = leftOut.flatMap((entity) =>
    entity.kind === 'text' ? [`"${entity.text.replaceAll(/\s+/g, ' ').trim()}"`] : [],
  );
  const drawn = leftOut.filter(({ kind }) => kind !== 'text');
  const words = [
    ...[...new Set(drawn.map(({ layer }) => layer))].map((layer) => {
      const own = drawn.filter((entity) => entity.layer === layer);
      return `${own.length} on layer ${layer} (${placesWords(own)})`;
    }),
    ...(texts.length === 0 ? [] : [`the texts ${texts.join(', ')}`]),
    ...findings
      .filter(({ rule }) => unread.has(rule))
      .map(
        ({ message, where }) =>
          `${message.replace(/\.$/, '')} (line ${where.line ?? 0} of ${basename(file)})`,
      ),
  ];
  return words.length === 0 ? null : words.join('; ');
}

/** What numbered layers are taken for that nobody has said anything about, in words; null: there are none. */
function numberedWords(drawn: readonly string[], said: LayerMap): string | null {
  const taken = drawn
    .filter((layer) => !said.has(layer.toUpperCase()))
    .flatMap((layer) => {
      const role = numberedRole(layer);
      return role === null ? [] : [`${layer} for ${role}`];
    });
  return taken.length === 0 ? null : `they are taken as ASTM D6673 has them, ${taken.join(', ')}`;
}

/**
 * Reads the written set again: every piece must have the area that was found in the drawing, to a
 * millionth. Otherwise there is an error.
 */
function proofOf(
  folder: string,
  sharedFolder: string,
  areas: ReadonlyMap<string, number>,
): Finding[] {
  const sets = setsToTry(readSetFiles(folder, sharedFolder));
  const pieces = sets.flatMap((set) => set.pieces);
  const findings = sets.flatMap((set) => set.findings);
  return [...areas].flatMap(([piece, area]): Finding[] => {
    // With some options it may be absent, or of another outline.
    const again = pieces.filter(({ name }) => name === piece).map(({ outline }) => areaOf(outline));
    if (again.some((one) => Math.abs(one - area) <= 1e-6 * area)) return [];
    const why = findings.find((one) => one.severity === 'error' && one.where.piece === piece);
    return [
      {
        severity: 'error',
        rule: 'import-proof',
        message: `this piece cannot be read again as it was seen${why === undefined ? '.' : `: ${why.message}`}`,
        todo: why?.todo ?? 'Redraw it as one closed line on layer OUTLINE.',
        where: { piece, ...(why?.where.at && { at: why.where.at }) },
      },
    ];
  });
}
