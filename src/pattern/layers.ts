import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { readYaml } from '../base/yaml.ts';
import type { Conditions } from './conditions.ts';
import { conditionSuffix, parseConditions } from './conditions.ts';

/** What the lines on a layer mean for their piece. */
const roles = [
  'OUTLINE',
  'CUTOUT',
  'HOLE',
  'NOTCH',
  'FOLD',
  'STITCH',
  'MARK',
  'PAD',
  'PILE',
  'AXIS',
  'BOUND',
  'SEAM',
  'TUCK',
  'TURNED',
  'RAW',
  'NOTE',
] as const;
export type Role = (typeof roles)[number];

/** What a feature may go with when the hand of drive changes: a person, or a side of the vehicle. */
export const followsWords = ['DRIVER', 'PASSENGER', 'LEFT', 'RIGHT'] as const;
export type Follows = (typeof followsWords)[number];

export interface LayerMeaning {
  readonly role: Role;
  /** null: the feature goes with the piece. */
  readonly follows: Follows | null;
  /** With which options of the set it is there. Empty: always. */
  readonly when: Conditions;
}

/** Layer names of a shop's own, in upper case, and the name (ROLE, ROLE-FOLLOWS) that each stands for. */
export type LayerMap = ReadonlyMap<string, string>;

const anyMeaning = `write one of ${roles.join(', ')}, with -${followsWords.join(', -')} behind it where it follows one, and -WITH-OPTION or -WITHOUT-OPTION where it goes with one`;

export const layerFileSchema = z
  .record(
    z.string(),
    z.string().refine((words) => parseName(words) !== null, anyMeaning),
  )
  .superRefine((layers, context) => {
    for (const [own, means] of Object.entries(layers)) {
      const message = whyNotMeaning(own, means);
      // What no layer can mean is told already.
      if (message === null || parseName(means) === null) continue;
      context.addIssue({ code: 'custom', path: [own], message });
    }
  })
  .describe(
    'own layer name: ROLE or ROLE-FOLLOWS, with -WITH-OPTION behind it where it goes with one',
  );

/** Why a layer of this name cannot mean that, in words; null: it can. */
export function whyNotMeaning(own: string, means: string): string | null {
  if (parseName(means) === null)
    return `"${means}" is nothing that a layer can mean; ${anyMeaning}`;
  if (parseName(own) === null || own.toUpperCase() === means.toUpperCase()) return null;
  return `the layer ${own} means what its name says, and cannot mean ${means}; rename the layer in the drawing`;
}

/** What own layers of a set mean, as its set file says, before what they mean in the whole shop. */
export function ownLayers(shop: LayerMap, own: Readonly<Record<string, string>>): LayerMap {
  return new Map([...shop, ...upperCased(own)]);
}

/**
 * What layers mean in the drawings of a set: first what the set says (`own`), then what the customer who
 * drew it says (`customer`), then what the whole shop says.
 */
export function layersInTurn(
  shop: LayerMap,
  customer: Readonly<Record<string, string>>,
  own: Readonly<Record<string, string>>,
): LayerMap {
  return ownLayers(ownLayers(shop, customer), own);
}

function upperCased(layers: Readonly<Record<string, string>>): [string, string][] {
  return Object.entries(layers).map(([own, means]) => [own.toUpperCase(), means]);
}

/**
 * Reads shared/layers.yaml. If there is no such file the map is empty: layers are named after their
 * roles. Throws a Refusal.
 */
export function readLayerMap(sharedFolder: string): LayerMap {
  const file = join(sharedFolder, 'layers.yaml');
  if (!existsSync(file)) return new Map();
  const { value } = readYaml(file, layerFileSchema, 'layer file');
  return new Map(upperCased(value));
}

/**
 * The numbered layers of ASTM D6673 and the roles that they stand for. (The standard was withdrawn in
 * 2019; this is from its preview and public guides.) Turn points, curve points, grading, stripes and
 * validation curves only repeat or explain what is drawn: they count as NOTE and are never cut.
 */
const numberedLayers: ReadonlyMap<string, Role> = new Map<string, Role>([
  ['1', 'OUTLINE'],
  ['4', 'NOTCH'],
  ['6', 'AXIS'],
  ['7', 'PILE'],
  ['8', 'MARK'],
  ['11', 'CUTOUT'],
  ['13', 'HOLE'],
  ['14', 'STITCH'],
  ...['80', '81', '82', '83'].map((layer) => [layer, 'NOTCH'] as const),
  ...['2', '3', '5', '9', '10', '12', '15'].map((layer) => [layer, 'NOTE'] as const),
  ...['84', '85', '86', '87'].map((layer) => [layer, 'NOTE'] as const),
]);

/**
 * Whether a layer is one of ASTM D6673. Points there say more than their place, for example how deep a
 * notch is.
 */
export function isNumbered(layer: string): boolean {
  return numberedLayers.has(layer);
}

/** What a layer is in ASTM D6673; null: it is none of its layers. */
export function numberedRole(layer: string): Role | null {
  return numberedLayers.get(layer) ?? null;
}

/** In ASTM D6673, the layer of the mirror line of a piece of which only one half is drawn. */
export const mirrorLayer = '6';

/** What a layer means, or null if its name means nothing. Upper and lower case are the same. */
export function meaningOf(layer: string, map: LayerMap): LayerMeaning | null {
  return parseName(map.get(layer.toUpperCase()) ?? numberedLayers.get(layer) ?? layer);
}

function parseName(name: string): LayerMeaning | null {
  const [role, ...words] = name.toUpperCase().split('-');
  if (!isRole(role)) return null;
  const [follows = null, ...rest] = words;
  const isFollowing = follows !== null && isFollows(follows);
  const when = parseConditions(isFollowing ? rest : words);
  return when === null ? null : { role, follows: isFollowing ? follows : null, when };
}

/** Whether a feature goes with a person: the driver or the passenger. */
export function followsPerson({ follows }: Pick<LayerMeaning, 'follows'>): boolean {
  return follows === 'DRIVER' || follows === 'PASSENGER';
}

/** The name of the layer with this meaning: the inverse of meaningOf. */
export function layerName({ role, follows, when }: LayerMeaning): string {
  return `${role}${follows === null ? '' : `-${follows}`}${conditionSuffix(when)}`;
}

/** The DXF colour number of each role, for drawings that this product writes. */
export const roleColours: Readonly<Record<Role, number>> = {
  OUTLINE: 7,
  CUTOUT: 5,
  HOLE: 5,
  NOTCH: 2,
  BOUND: 30,
  SEAM: 140,
  TUCK: 92,
  TURNED: 82,
  RAW: 9,
  PILE: 52,
  AXIS: 8,
  PAD: 34,
  FOLD: 210,
  STITCH: 150,
  MARK: 8,
  NOTE: 8,
};

function isRole(word: string | undefined): word is Role {
  return roles.includes(word as Role);
}

function isFollows(word: string): word is Follows {
  return followsWords.includes(word as Follows);
}
