import { startOfEntity } from '../drawing/entity-of.ts';
import type { Entity } from '../drawing/drawing.ts';
import type { Finding, Place } from '../base/findings.ts';
import { decimal } from '../base/numbers.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { kindWords, oneRoleOf } from './first-look/alike-things.ts';
import type { RoleGuess } from './first-look/guess-roles.ts';
import { isStick } from './dashes.ts';
import { boxOfPath, pathLength } from '../geometry/paths/path.ts';

/** Something on a layer that says nothing, and the piece in whose outline or block it lies. */
export interface UnknownThing {
  readonly piece: string;
  /** The drawing file. */
  readonly file: string;
  readonly entity: Entity;
  /**
   * Whether it is a closed line that runs beside the outline of its piece all round; and whether it may be
   * the outline, because no layer named OUTLINE says which is.
   */
  readonly beside: 'nothing' | 'outline' | 'doubtful-outline';
  /** What it may be by its shape and place. Empty: that cannot be told. */
  readonly guesses: readonly RoleGuess[];
}

/** What a reader of such a finding is told besides what lies there. */
interface AskedBy {
  readonly severity: Finding['severity'];
  /** In which frame places are given: `in the piece’s drawing`, for example. */
  readonly frame: string;
  /**
   * What to do about a layer. `roles`: what the things on it can be, in words. `isOnSeveral`: it lies on
   * several pieces.
   */
  readonly todo: (layer: string, roles: string, isOnSeveral: boolean) => string;
}

/**
 * One finding for each layer that says nothing, with all that lies on it: what kind of thing, how large,
 * in which piece and where.
 */
export function unknownLayerFindings(
  things: readonly UnknownThing[],
  { severity, frame, todo }: AskedBy,
): Finding[] {
  const layers = [...new Set(things.map(({ entity }) => entity.layer.toUpperCase()))];
  return layers.map((layer) => {
    const own = things.filter(({ entity }) => entity.layer.toUpperCase() === layer);
    const [first] = own as [UnknownThing];
    const pieces = [...new Set(own.map(({ piece }) => piece))];
    const name = first.entity.layer;
    const isOne = own.length === 1;
    return {
      severity,
      rule: 'unknown-layer',
      message: `nothing says what layer "${name}" means. ${isOne ? `On it is ${thingWords(first.entity)}` : `${own.length} things are on it: ${listed(own, frame)}`}.${probably(own)}`,
      todo: `${todo(name, rolesFor(own), pieces.length > 1)}${isOne ? '' : divided}`,
      where: placeOf(first, pieces.length === 1),
    };
  });
}

/** What all the things of a layer most likely are, where only one answer is sensible. */
function probably(things: readonly UnknownThing[]): string {
  const one = oneRoleOf(things.map(({ guesses }) => guesses));
  if (one === null || things.some(({ beside }) => beside === 'doubtful-outline')) return '';
  const kinds = [...new Set(things.map(({ guesses }) => guesses[0]!.kind))];
  const words = things.length === 1 ? one.words : kinds.map((kind) => kindWords[kind]).join(', ');
  return ` Probably ${one.role}: ${words}.`;
}

/** A thing in one piece is marked there. What lies in several pieces stands with the whole set. */
function placeOf({ piece, file, entity }: UnknownThing, isAlone: boolean): Place {
  const { line } = entity;
  return isAlone ? { file, line, piece, at: startOfEntity(entity) } : { file, line };
}

const divided = ' Where not all of it is the same, put it on layers of its own in the drawing.';

/** So many things are listed with their place; of more only the number is given. */
const mostListed = 6;

function listed(things: readonly UnknownThing[], frame: string): string {
  const told = things.slice(0, mostListed).map(({ piece, entity }) => {
    const { x, y } = startOfEntity(entity);
    return `${thingWords(entity)} in ${piece} at ${decimal(x, 1)}, ${decimal(y, 1)}`;
  });
  const rest = things.length - told.length;
  const more = rest > 0 ? `; and ${rest} more` : '';
  return `${told.join('; ')} (${frame})${more}`;
}

/** What kind of thing an entity is, and how large: `a closed line of 180 by 90 mm`. */
export function thingWords(entity: Entity): string {
  if (entity.kind === 'text') return `the text "${entity.text.replaceAll(/\s+/g, ' ').trim()}"`;
  if (entity.kind === 'point') return 'a point';
  const { path } = entity;
  if (!path.closed) return `an open line ${decimal(pathLength(path), 0)} mm long`;
  const box = boxOfPath(path);
  return `a closed line of ${decimal(widthOf(box), 0)} by ${decimal(heightOf(box), 0)} mm`;
}

const edgeRoles = ['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW'];

/** The roles that such things can have, in words. */
function rolesFor(things: readonly UnknownThing[]): string {
  const can = new Set(things.flatMap(rolesOf));
  const all = [...can];
  return `${all.slice(0, -1).join(', ')} or ${all.at(-1)!}`;
}

function rolesOf({ entity, beside }: UnknownThing): string[] {
  if (entity.kind !== 'path') return ['NOTCH', 'HOLE', 'MARK'];
  if (entity.path.closed) {
    const outline = beside === 'doubtful-outline' ? ['OUTLINE'] : [];
    const edges = beside === 'nothing' ? [] : edgeRoles;
    return [...outline, ...edges, 'CUTOUT', 'HOLE', 'PAD', 'MARK'];
  }
  const open = [...edgeRoles, 'NOTCH', 'FOLD', 'STITCH', 'MARK'];
  return isStick(entity.path) ? [...open, 'PILE', 'AXIS'] : open;
}
