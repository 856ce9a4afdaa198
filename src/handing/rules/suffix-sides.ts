import type { Finding } from '../../base/findings.ts';
import { wordSpot } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { transformPath, translation } from '../../geometry/paths/transform.ts';
import type { Feature } from '../../pattern/feature.ts';
import { pieceError, pieceWarning } from '../../pattern/findings.ts';
import { alikeInConditions } from '../../pattern/conditions.ts';
import { followsPerson, layerName } from '../../pattern/layers.ts';
import type { Piece } from '../../pattern/piece.ts';
import { entrySide } from '../../pattern/rules/side-names.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Hand, Side } from '../../pattern/words.ts';
import { driverSide } from '../../pattern/words.ts';
import { outlineInVehicle, vehicleFrame } from '../frame.ts';
import { sideFollowed } from '../sides.ts';
import { isPlaced, sideOfBox } from './lies.ts';

/**
 * What is drawn where it is needed. Notches and edges that go with a person do so all along the piece,
 * on both sides of it.
 */
const bodies: ReadonlySet<Feature['role']> = new Set([
  'CUTOUT',
  'HOLE',
  'PAD',
  'MARK',
  'STITCH',
  'FOLD',
]);

/** So many are named one by one; the rest is counted. */
const mostNamed = 6;

/** Something on a centre piece whose layer names a side, and the side on which it lies wholly. */
interface SuffixedThing {
  readonly piece: Piece;
  readonly feature: Feature;
  readonly said: Side;
  readonly lies: Side;
}

/** Whether most that goes with a person lies on the other person's side, and in more than one thing. */
export function isDrawnHandDoubtful(patterns: PatternSet): boolean {
  return doubtsOfHand(patterns).length > 0;
}

/**
 * Rules: what is named for a side of the vehicle lies on it. LEFT and RIGHT are errors where an AXIS or
 * `at` says where the piece lies, because one of the two is wrong. DRIVER and PASSENGER are questions, for
 * what goes with a person may lie beyond the middle; `decided` answers where it names the layer. A heel
 * pad is an error, because orders take pads by the side on which they lie. If most of what goes with a
 * person lies on the other person's side, it is the hand that is drawn which the set file says wrong.
 */
export function checkSuffixSides(patterns: PatternSet): Finding[] {
  const { drawn } = patterns.content;
  const doubts = doubtsOfHand(patterns);
  const wrong = suffixedThings(patterns).filter(isAstray);
  const told = doubts.length > 0 ? wrong.filter(({ feature }) => !followsPerson(feature)) : wrong;
  const ofPieces = patterns.pieces.flatMap((piece) =>
    alikeInConditions(
      told.filter((one) => one.piece === piece),
      ({ feature }) => feature.when,
    ).map((own) => ({ piece, own })),
  );
  const byPiece = ofPieces.flatMap(({ piece, own }) => {
    const pads = own.filter(isPersonsPad);
    const persons = own.filter((one) => followsPerson(one.feature) && !isPersonsPad(one));
    const sides = own.filter(({ feature }) => !followsPerson(feature));
    return [
      ...(pads.length === 0 ? [] : [padElsewhere(piece, pads, drawn)]),
      ...(sides.length === 0 ? [] : [suffixElsewhere(piece, sides, drawn)]),
      ...(persons.length === 0 ? [] : [suffixElsewhere(piece, persons, drawn)]),
    ];
  });
  return [...(doubts.length === 0 ? [] : [handDoubtful(patterns, doubts)]), ...byPiece];
}

function isAstray({ said, lies }: Pick<SuffixedThing, 'said' | 'lies'>): boolean {
  return said !== lies;
}

function isPersonsPad({ feature }: SuffixedThing): boolean {
  return feature.role === 'PAD' && followsPerson(feature);
}

function suffixedThings({ pieces, content }: PatternSet): SuffixedThing[] {
  return pieces
    .filter(({ entry }) => entry.side === 'centre' && entry.open?.['side'] === undefined)
    .flatMap((piece) =>
      piece.features.flatMap((feature) => {
        const { follows } = feature;
        const lies = follows === null ? null : sideOnPiece(piece, feature);
        if (follows === null || lies === null) return [];
        if (followsPerson(feature) && (!bodies.has(feature.role) || isDecided(piece, feature))) {
          return [];
        }
        return [{ piece, feature, said: sideFollowed(follows, content.drawn), lies }];
      }),
    );
}

function isDecided({ entry }: Piece, feature: Feature): boolean {
  const { decided } = entry;
  const layer = layerName({ ...feature, when: [] });
  return feature.role !== 'PAD' && decided?.toUpperCase().includes(layer) === true;
}

/**
 * The side on which something lies wholly. Where nothing says where the piece lies, it must lie on that
 * side of the middle of the outline too.
 */
function sideOnPiece(piece: Piece, { path }: Feature): Side | null {
  const frame = vehicleFrame(piece);
  const inVehicle = transformPath(frame, path);
  const lies = sideOfBox(boxOfPath(inVehicle));
  if (isPlaced(piece)) return lies;
  const outline = boxOfPath(transformPath(frame, piece.outline));
  const fromMiddle = transformPath(translation({ x: -centreOf(outline).x, y: 0 }), inVehicle);
  return sideOfBox(boxOfPath(fromMiddle)) === lies ? lies : null;
}

/**
 * What lies on the wrong side for the hand that the set file says is drawn, in words, if there are two
 * of it at least and less lies on the right side. Otherwise nothing.
 */
function doubtsOfHand(patterns: PatternSet): readonly string[] {
  const things = suffixedThings(patterns).filter(
    ({ piece, feature }) => followsPerson(feature) && isPlaced(piece),
  );
  const persons = patterns.pieces.flatMap((piece) => {
    const { side, open } = piece.entry;
    const isPersons = (side === 'driver' || side === 'passenger') && open?.['side'] === undefined;
    if (!isPersons || !isPlaced(piece)) return [];
    const lies = sideOfBox(boxOfPath(outlineInVehicle(piece)));
    const said = entrySide(piece.entry, patterns.content.drawn)!;
    return lies === null ? [] : [{ piece, said, lies }];
  });
  const wrong = [
    ...things
      .filter(isAstray)
      .map(({ piece, feature }) => `${layerName(feature)} of ${piece.name}`),
    ...persons.filter(isAstray).map(({ piece }) => `the piece ${piece.name}`),
  ];
  const isMost = 2 * wrong.length > things.length + persons.length;
  return wrong.length >= 2 && isMost ? [...new Set(wrong)] : [];
}

function handDoubtful({ content, placeOf }: PatternSet, doubts: readonly string[]): Finding {
  const { drawn } = content;
  const named = doubts.slice(0, mostNamed);
  const more = doubts.length > named.length ? [`${doubts.length - named.length} more`] : [];
  return {
    severity: 'error',
    rule: 'drawn-hand',
    message: `the set file says "drawn: ${drawn}", where the driver sits on the ${driverSide(drawn)}, and most of what goes with a person is drawn on the other side: ${listed([...named, ...more])}.`,
    todo: `Write "drawn: ${drawn === 'RHD' ? 'LHD' : 'RHD'}" if that is the hand that is drawn; or correct the layers, the AXIS or "at:" of these.`,
    where: placeOf(['drawn']),
  };
}

function padElsewhere(piece: Piece, pads: readonly SuffixedThing[], drawn: Hand): Finding {
  const message = `${wordThings(pads, drawn)}: orders choose heel pads by the side on which they lie, so it would be cut for the wrong person, or in no hand.`;
  const todo =
    'Draw it on the side of the person that its layer names, or put it on the layer of the other one.';
  return pieceError(piece, { rule: 'pad-elsewhere', message, todo }, spotOfFirst(pads));
}

function suffixElsewhere(piece: Piece, things: readonly SuffixedThing[], drawn: Hand): Finding {
  const ofPerson = followsPerson(things[0]!.feature);
  const layers = [...new Set(things.map(({ feature }) => layerName(feature)))];
  const answer = ofPerson
    ? ` If it belongs there, write down why as "decided:" of the piece, and name ${listed(layers)} in it.`
    : '';
  const wording = {
    rule: 'suffix-elsewhere',
    message: `${wordThings(things, drawn)}.`,
    todo: `Correct the layer or the place; if all of it is on the wrong side, the AXIS, "at:" or the whole drawing of the piece is.${answer}`,
  };
  return ofPerson || !isPlaced(piece)
    ? pieceWarning(piece, wording, spotOfFirst(things))
    : pieceError(piece, wording, spotOfFirst(things));
}

function wordThings(things: readonly SuffixedThing[], drawn: Hand): string {
  const named = things.slice(0, mostNamed).map(({ feature, lies }) => {
    const at = wordSpot(centreOf(boxOfPath(feature.path)));
    return `a ${layerName(feature)} at ${at} lies on the ${lies} of the vehicle`;
  });
  const more = things.length > named.length ? [`${things.length - named.length} more lie so`] : [];
  const sits = followsPerson(things[0]!.feature)
    ? `, and the driver sits on the ${driverSide(drawn)} as it is drawn`
    : '';
  return `in the piece's drawing, ${listed([...named, ...more])}${sits}`;
}

function spotOfFirst([first]: readonly SuffixedThing[]) {
  const { line, path } = first!.feature;
  return { line, at: centreOf(boxOfPath(path)) };
}
