import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import { longestName } from '../../base/names.ts';
import { namesIn } from '../../base/named-file.ts';
import { rounded } from '../../base/numbers.ts';
import type { Drawing, Units } from '../../drawing/drawing.ts';
import { readDrawingBytes } from '../../drawing/read.ts';
import { mmPer } from '../../drawing/units.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { pathData } from '../../papers/svg/svg.ts';
import { drawnLayers, layerAnswers } from '../../pattern/first-look/answers.ts';
import { describeDrawing } from '../../pattern/first-look/describe.ts';
import { slug } from '../../pattern/first-look/first-set.ts';
import { handsSaid, titleDrawn } from '../../pattern/first-look/first-words.ts';
import type { SeenPiece, Sight } from '../../pattern/first-look/sight.ts';
import { isPlausibleLength } from '../../pattern/first-look/size.ts';
import { ownLayers, readLayerMap } from '../../pattern/layers.ts';
import { defaultGap } from '../../pattern/outlines/outlines.ts';
import { readCustomerLayers } from '../../pattern/shop/customer.ts';
import { thingWords } from '../../pattern/unknown-layers.ts';
import type {
  DrawingSight,
  Extents,
  SightPiece,
  SightThing,
  SightWish,
  SightSpot,
} from '../api/sight.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { withoutFile } from './import.ts';
import type { SightFrame } from './sight-frame.ts';
import { inPicture, sightFrame } from './sight-frame.ts';
import type { SaidBy } from './sight-layers.ts';
import { boxInPicture, roundedBox, sightLayers } from './sight-layers.ts';
import { thinnedPaths } from './thinned-path.ts';

interface SightRequest {
  readonly shop: Workshop;
  readonly wish: SightWish;
  readonly drawing: Uint8Array;
}

/**
 * What is seen in a drawing that was sent, before it is a set: units, layers, pieces, and what lies in
 * none. Throws a Refusal where it cannot be read at all, or where an answer about a layer cannot be.
 */
export function sightOfDrawing({ shop, wish, drawing: bytes }: SightRequest): DrawingSight {
  return withoutFile(wish.name, () => {
    const { drawing, hash } = readOnce(bytes, wish);
    const said = saidOf(drawing, wish, shop);
    const sight = describeDrawing(drawing, said.all, {
      gap: wish.gap ?? defaultGap,
      refit: wish.refit,
    });
    return pictured(drawing, sight, said, { shop, wish, bytes, hash });
  });
}

/** The drawing that was read last: it is asked about again with each answer. */
let known: { readonly key: string; readonly drawing: Drawing } | null = null;

function readOnce(
  bytes: Uint8Array,
  { name, units }: SightWish,
): { drawing: Drawing; hash: string } {
  const hash = createHash('sha256').update(bytes).digest('hex');
  const key = JSON.stringify([hash, name, units ?? null]);
  if (known?.key !== key) {
    known = null;
    known = { key, drawing: readDrawingBytes(bytes, name, units === undefined ? {} : { units }) };
  }
  return { drawing: known.drawing, hash };
}

function saidOf(drawing: Drawing, { layers, drawnBy }: SightWish, { shared }: Workshop): SaidBy {
  // A name that is none has no file; that it is none is told where the set is begun.
  const isName = drawnBy !== undefined && /^[a-z0-9-]+$/.test(drawnBy);
  const ofCustomer = readCustomerLayers(shared, isName ? drawnBy : undefined);
  const shop = readLayerMap(shared);
  const customer = ownLayers(new Map(), ofCustomer);
  const answers = layerAnswers(layers, drawnLayers(drawing));
  return { shop, customer, answers, all: new Map([...shop, ...customer, ...answers]) };
}

interface Sent {
  readonly shop: Workshop;
  readonly wish: SightWish;
  readonly bytes: Uint8Array;
  readonly hash: string;
}

function pictured(
  drawing: Drawing,
  sight: Sight,
  said: SaidBy,
  { shop, wish, bytes, hash }: Sent,
): DrawingSight {
  const frame = sightFrame(drawing);
  const thinned = thinningOf(frame);
  const { report, pieces } = sight;
  const name = freeName(wish.name, shop);
  return {
    units: unitsSeen(drawing, sight, frame),
    size: [rounded(frame.width, 2), rounded(frame.height, 2)],
    thinned,
    layers: sightLayers(
      frame,
      said,
      pieces.map(({ outline }) => outline.contour.entity.layer),
      thinned,
    ),
    pieces: pieces.map((piece) => pieceSeen(piece, frame, thinned)),
    leftOut: thingsLeftOut(sight, frame),
    // What the units are is asked beside the picture.
    findings: report.findings.filter(({ rule }) => rule !== 'units-assumed'),
    spots: report.findings
      .filter(({ rule }) => rule !== 'units-assumed')
      .map((one) => spotOf(one, drawing, frame)),
    proposed: {
      name,
      title: titleDrawn(sight),
      hand: handsSaid(drawing).length === 1 ? handsSaid(drawing)[0]! : null,
    },
    customers: namesIn(join(shop.shared, 'customers')),
    begun: begunOf(bytes, hash, shop),
  };
}

/**
 * More vertices than this are thinned for the picture: a screen does not show them, and moving about in it
 * would be slow.
 */
const mostVertices = 30_000;

/** A line this far off, as a share of the picture's longer side, is a fifth of a pixel off when all is seen. */
const unseenShare = 2e-4;

/** How far lines may be drawn from where they are, mm; 0 where there are few. */
function thinningOf({ entities, width, height }: SightFrame): number {
  const count = entities.reduce(
    (sum, one) => sum + (one.kind === 'path' ? one.path.vertices.length : 1),
    0,
  );
  return count <= mostVertices ? 0 : rounded(unseenShare * Math.max(width, height), 3);
}

function pieceSeen({ report, outline }: SeenPiece, frame: SightFrame, thinned: number): SightPiece {
  const by = frame.moveOf(outline.contour.entity, report.block);
  const cut = outline.inner.filter(({ role }) => role === 'CUTOUT' || role === 'HOLE');
  const paths = [outline.contour, ...cut].map(({ path }) => inPicture(path, by));
  return {
    name: report.name,
    d: thinnedPaths(paths, thinned).map(pathData).join(''),
    box: roundedBox(boxOfPath(inPicture(outline.contour.path, by))),
  };
}

function thingsLeftOut({ leftOut }: Sight, frame: SightFrame): SightThing[] {
  return leftOut.map((entity) => ({
    layer: entity.layer,
    words: thingWords(entity),
    isText: entity.kind === 'text',
    box: boxInPicture(entity, frame),
  }));
}

/** Where a finding points to, in the picture. */
function spotOf({ where }: Finding, { unplaced }: Drawing, frame: SightFrame): SightSpot | null {
  if (where.at === undefined) return null;
  const { piece } = where;
  const block = piece !== undefined && unplaced.includes(piece) ? piece : null;
  const by = frame.moveOfBlock(block);
  return [rounded(where.at.x + by.x, 2), rounded(where.at.y + by.y, 2)];
}

function unitsSeen(drawing: Drawing, { pieces }: Sight, frame: SightFrame): DrawingSight['units'] {
  const extents = pieces.map(({ report: { outline } }): Extents => {
    const [x0, y0, x1, y1] = outline.bbox;
    return [x1 - x0, y1 - y0];
  });
  const [largest = null] = extents.toSorted((a, b) => longer(b) - longer(a));
  const whole: Extents = [frame.width, frame.height];
  const sizes = (Object.keys(mmPer) as Units[]).map((units) => {
    const factor = mmPer[units] / mmPer[drawing.units];
    const scaled = ([width, height]: Extents): Extents => [
      rounded(width * factor, 1),
      rounded(height * factor, 1),
    ];
    return { units, whole: scaled(whole), largest: largest === null ? null : scaled(largest) };
  });
  const isStrange = largest !== null && !isPlausibleLength(longer(largest));
  return {
    are: drawing.units,
    from: drawing.unitsFrom,
    asked: drawing.unitsFrom === 'assumed' ? 'must' : isStrange ? 'doubtful' : null,
    sizes: sizes.toSorted((a, b) => unlikeliness(a) - unlikeliness(b)),
  };
}

/** The longer side of the largest piece of a usual drawing, mm. */
const usualLength = 1200;

function longer([width, height]: Extents): number {
  return Math.max(width, height);
}

/** How unlikely units are: the size that pieces would have counts, and that most are drawn in mm or inches. */
function unlikeliness({ units, whole, largest }: DrawingSight['units']['sizes'][number]): number {
  const length = Math.max(longer(largest ?? whole), 1e-9);
  const isRare = units === 'cm' || units === 'm';
  return Math.abs(Math.log(length / usualLength)) + (isRare ? 3 : 0);
}

/** A name for the set: that of the file, and a number behind it where there is such a set already. */
function freeName(file: string, { patterns }: Workshop): string {
  const base =
    slug(file.replace(/\.[^.]*$/, ''))
      .slice(0, longestName - 3)
      .replace(/-$/, '') || 'drawing';
  let name = base;
  for (let n = 2; existsSync(join(patterns, name)); n++) name = `${base}-${n}`;
  return name;
}

/** The sets that were begun of a drawing: beside each lies the drawing as it came. */
function begunOf(bytes: Uint8Array, hash: string, { patterns }: Workshop): string[] {
  return readdirSync(patterns, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .map(({ name }) => name)
    .filter((set) => {
      const folder = join(patterns, set, 'received');
      if (!existsSync(folder)) return false;
      return readdirSync(folder, { withFileTypes: true }).some((entry) => {
        const path = join(folder, entry.name);
        return (
          entry.isFile() &&
          statSync(path).size === bytes.length &&
          createHash('sha256').update(readFileSync(path)).digest('hex') === hash
        );
      });
    })
    .toSorted();
}
