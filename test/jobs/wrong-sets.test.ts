import { afterAll, describe, expect, it } from 'vitest';
import { hole, line, box, note, on } from '../../patterns/fenlark/pen.ts';
import type { Finding } from '../../src/base/findings.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import type { Transform } from '../../src/geometry/paths/transform.ts';
import {
  reflection,
  rotation,
  transformPath,
  transformPoint,
  translation,
} from '../../src/geometry/paths/transform.ts';
import type { TrialSet } from '../support/trial-sets.ts';
import { fenlarkSet, openTrials, siskinTrial, wrenSet } from '../support/trial-sets.ts';

type Change = (set: TrialSet) => TrialSet;

const { findingsOf, close } = openTrials();
afterAll(close);

const sound = { fenlark: fenlarkSet, wren: wrenSet, siskin: siskinTrial } satisfies Record<
  string,
  () => TrialSet
>;

type SoundName = keyof typeof sound;

/** What is drawn of one piece, changed. */
function drawn(name: string, change: (entities: readonly Entity[]) => Entity[]): Change {
  return ({ blocks, content }) => {
    if (!blocks.some((block) => block.name === name)) throw new Error(`there is no ${name}`);
    return {
      content,
      blocks: blocks.map((block) =>
        block.name === name ? { name, entities: change(block.entities) } : block,
      ),
    };
  };
}

function more(name: string, ...added: Entity[]): Change {
  return drawn(name, (entities) => [...entities, ...added]);
}

/** What the set file says of one piece, changed; undefined takes a key away. */
function said(name: string, keys: Record<string, unknown>): Change {
  return ({ blocks, content }) => {
    const { [name]: entry, ...others } = content.pieces;
    if (entry === undefined) throw new Error(`there is no ${name}`);
    return {
      blocks,
      content: { ...content, pieces: { ...others, [name]: { ...entry, ...keys } } },
    };
  };
}

/** A piece under another name, drawn by the same block. */
function renamed(name: string, to: string): Change {
  return ({ blocks, content }) => {
    const { [name]: entry, ...others } = content.pieces;
    const block = entry!['block'] ?? name.toUpperCase();
    return { blocks, content: { ...content, pieces: { ...others, [to]: { ...entry, block } } } };
  };
}

function another(name: string, entry: Record<string, unknown>): Change {
  return ({ blocks, content }) => ({
    blocks,
    content: { ...content, pieces: { ...content.pieces, [name]: entry } },
  });
}

function both(first: Change, second: Change): Change {
  return (set) => second(first(set));
}

function onLayer(layer: string, to: string): (entities: readonly Entity[]) => Entity[] {
  return (entities) => entities.map((one) => (one.layer === layer ? { ...one, layer: to } : one));
}

function movedOn(layer: string, transform: Transform): (entities: readonly Entity[]) => Entity[] {
  return (entities) =>
    entities.map((one) => (one.layer === layer ? transformed(one, transform) : one));
}

function transformed(one: Entity, transform: Transform): Entity {
  return one.kind === 'path'
    ? { ...one, path: transformPath(transform, one.path) }
    : { ...one, at: transformPoint(transform, one.at) };
}

const aside = (x: number, y: number): Transform => translation({ x, y });

/** Each block drawn from its own lower left corner, and no word of where it belongs. */
const fromCorners: Change = ({ blocks, content }) => ({
  blocks: blocks.map(({ name, entities }) => {
    const found = entities.find((one) => one.layer === 'OUTLINE');
    const { minX, minY } = boxOfPath(
      found?.kind === 'path' ? found.path : { closed: false, vertices: [] },
    );
    return { name, entities: entities.map((one) => transformed(one, aside(-minX, -minY))) };
  }),
  content: {
    ...content,
    pieces: Object.fromEntries(
      Object.entries(content.pieces).map(([name, entry]) => [name, { ...entry, at: undefined }]),
    ),
  },
});

/** The block lies on its side in the drawing, its front to the left, and its AXIS was drawn backwards. */
function lyingWithAxisBackwards(name: string): Change {
  return drawn(name, (entities) =>
    entities
      .map((one) => transformed(one, rotation(90)))
      .map((one) =>
        one.kind === 'path' && one.layer === 'AXIS'
          ? { ...one, path: { ...one.path, vertices: one.path.vertices.toReversed() } }
          : one,
      ),
  );
}

/** A way to get a set wrong: what is done to each of the three, and the rule that must tell. */
interface Way {
  readonly name: string;
  readonly rule: string;
  readonly severity: Finding['severity'];
  readonly done: Readonly<Record<SoundName, Change>>;
}

const ways: readonly Way[] = [
  {
    name: 'a fold line is on the layer of notches',
    rule: 'notch-across',
    severity: 'error',
    done: {
      fenlark: drawn('DOOR-STEP', onLayer('FOLD', 'NOTCH')),
      wren: drawn('FLOOR', onLayer('FOLD', 'NOTCH')),
      siskin: drawn('CAB-FLOOR', onLayer('FOLD', 'NOTCH')),
    },
  },
  {
    name: 'a line of 50 mm is on the layer of notches',
    rule: 'notch-long',
    severity: 'error',
    done: {
      fenlark: more('BENCH-FRONT', ...on('NOTCH', line([700, -3600], [650, -3600]))),
      wren: more('FLOOR', ...on('NOTCH', line([550, 200], [500, 200]))),
      siskin: more('KICK', ...on('NOTCH', line([0, 100], [50, 100]))),
    },
  },
  {
    name: 'a hole for the hand brake has no suffix',
    rule: 'one-sided',
    severity: 'warning',
    done: {
      fenlark: more('BENCH-FRONT', ...on('HOLE', hole(330, -3500, 20))),
      wren: said('floor', { decided: undefined }),
      siskin: more('CAB-FLOOR', ...on('HOLE', hole(520, 200, 20))),
    },
  },
  {
    name: 'the AXIS is drawn 5 mm beside the middle',
    rule: 'axis-off-middle',
    severity: 'warning',
    done: {
      fenlark: drawn('BENCH-FRONT', movedOn('AXIS', aside(5, 0))),
      wren: drawn('FLOOR', movedOn('AXIS', aside(-5, 0))),
      siskin: drawn('CAB-FLOOR', movedOn('AXIS', aside(5, 0))),
    },
  },
  {
    name: 'a pad on one side of a centre piece has no suffix',
    rule: 'pad-one-sided',
    severity: 'error',
    done: {
      fenlark: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD', box(300, 270, 400, 340, 35))),
      ),
      wren: both(
        said('floor', { pad: 'rubber' }),
        more('FLOOR', ...on('PAD', box(200, 150, 350, 300))),
      ),
      siskin: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD', box(100, 100, 250, 250))),
      ),
    },
  },
  {
    name: 'a piece is said to be on the other side',
    rule: 'drawn-elsewhere',
    severity: 'warning',
    done: {
      fenlark: said('battery-lid', { side: 'right' }),
      wren: said('mat', { drawnSide: 'left' }),
      // Its `at` makes it certain.
      siskin: said('kick', { side: 'driver' }),
    },
  },
  {
    name: 'the name of a piece says the other side',
    rule: 'name-side',
    severity: 'warning',
    done: {
      fenlark: renamed('slider-step', 'slider-step-left'),
      wren: renamed('cover', 'cover-rh'),
      siskin: both(
        said('sill-left', { block: 'SILL-R', side: 'right', at: [470, 60] }),
        said('sill-right', { block: 'SILL-L', side: 'left', at: [-540, 60] }),
      ),
    },
  },
  {
    name: 'the other one of a kind is missing',
    rule: 'no-counterpart',
    severity: 'warning',
    done: {
      fenlark: renamed('slider-step', 'slider-step-right'),
      wren: both(said('rest', { side: 'right' }), renamed('rest', 'rest-right')),
      siskin: renamed('sill-left', 'trim-left'),
    },
  },
  {
    name: 'a note asks for two, and one is cut',
    rule: 'note-says-pair',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('CUT 1 EACH SIDE', 800, -1100)),
      wren: more('REST', note('PAIR', 500, 760)),
      siskin: both(renamed('sill-left', 'trim'), more('SILL-L', note('MIRROR', 30, 300))),
    },
  },
  {
    name: 'a piece of the left and the driver’s are one block',
    rule: 'same-block',
    severity: 'warning',
    done: {
      fenlark: another('rest-pad', {
        side: 'left',
        block: 'FOOTREST',
        material: 'carpet-loop',
        tucked: 'x',
      }),
      wren: another('rest-pad', { side: 'left', block: 'REST', material: 'loop', edge: 'bound' }),
      siskin: another('kick-pad', {
        side: 'left',
        block: 'KICK',
        material: 'carpet-loop',
        at: [-420, 760],
        tucked: 'the dash',
      }),
    },
  },
  {
    name: 'edge lines and notches are drawn 0.8 mm beside the outline',
    rule: 'snapped',
    severity: 'note',
    done: {
      fenlark: drawn('DOOR-STEP', movedOn('TUCK', aside(0.8, 0))),
      wren: drawn('FLOOR', movedOn('SEAM', aside(0, 0.8))),
      siskin: drawn('SILL-L', movedOn('NOTCH', aside(0.8, 0))),
    },
  },
  {
    name: 'nothing says where the blocks lie in the vehicle',
    rule: 'stacked',
    severity: 'warning',
    done: { fenlark: fromCorners, wren: fromCorners, siskin: fromCorners },
  },
  {
    name: 'two pieces go under each other',
    rule: 'tuck-circle',
    severity: 'warning',
    done: {
      fenlark: said('rear-lip', { tucked: 'the living floor' }),
      wren: both(said('floor', { tucked: 'the dash' }), said('dash', { tucked: 'the floor' })),
      siskin: both(
        said('kick', { tucked: 'the sill right' }),
        said('sill-right', { tucked: 'the kick and the door seal' }),
      ),
    },
  },
];

const names = Object.keys(sound) as SoundName[];

const overMiddle = reflection({ x: 0, y: 0 }, 90);

/** A second block with the same drawing as another, moved, and a piece that is read from it. */
function copied(
  name: string,
  to: string,
  transform: Transform,
  piece: string,
  entry: Record<string, unknown>,
): Change {
  return ({ blocks, content }) => {
    const { entities } = blocks.find((block) => block.name === name)!;
    const copy = { name: to, entities: entities.map((one) => transformed(one, transform)) };
    return another(piece, { ...entry, block: to })({ blocks: [...blocks, copy], content });
  };
}

function withoutPiece(name: string): Change {
  return ({ blocks, content }) => {
    const { [name]: gone, ...pieces } = content.pieces;
    if (gone === undefined) throw new Error(`there is no ${name}`);
    return { blocks, content: { ...content, pieces } };
  };
}

/** Ways that are all of one rule in the Fenlark, and where they are told. */
const sideWays: readonly Way[] = [
  {
    name: 'what is named for a side of the vehicle lies on the other',
    rule: 'suffix-elsewhere',
    severity: 'error',
    done: {
      fenlark: drawn('CAB-FLOOR', onLayer('HOLE-LEFT', 'HOLE-RIGHT')),
      wren: drawn('FLOOR', onLayer('CUTOUT-LEFT', 'CUTOUT-RIGHT')),
      siskin: more('CAB-FLOOR', ...on('HOLE-RIGHT', hole(300, 200, 12))),
    },
  },
  {
    name: 'what goes with the driver lies on the passenger’s side',
    rule: 'suffix-elsewhere',
    severity: 'warning',
    done: {
      fenlark: drawn('CAB-FLOOR', movedOn('CUTOUT-DRIVER', overMiddle)),
      wren: drawn('DASH', movedOn('HOLE-DRIVER', overMiddle)),
      siskin: drawn('CAB-FLOOR', movedOn('CUTOUT-DRIVER', aside(500, 0))),
    },
  },
  {
    name: 'the driver’s heel pad lies on the passenger’s side',
    rule: 'pad-elsewhere',
    severity: 'error',
    done: {
      fenlark: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD-DRIVER', box(-560, 270, -480, 340, 5))),
      ),
      wren: both(
        said('floor', { pad: 'rubber' }),
        more('FLOOR', ...on('PAD-DRIVER', box(-500, 150, -350, 300))),
      ),
      siskin: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD-DRIVER', box(600, 100, 750, 250))),
      ),
    },
  },
  {
    name: 'the set file says the other hand is drawn',
    rule: 'drawn-hand',
    severity: 'error',
    done: {
      fenlark: otherHand('LHD'),
      wren: otherHand('LHD'),
      siskin: otherHand('RHD'),
    },
  },
  {
    name: 'the AXIS is drawn a degree askew',
    rule: 'axis-askew',
    severity: 'warning',
    done: {
      fenlark: drawn('TOE-BOARD', movedOn('AXIS', rotation(1))),
      wren: drawn('DASH', movedOn('AXIS', rotation(-0.2))),
      siskin: drawn('CAB-FLOOR', movedOn('AXIS', rotation(1))),
    },
  },
  {
    name: 'a piece has been taken out of the set file',
    rule: 'unused-block',
    severity: 'warning',
    done: {
      fenlark: withoutPiece('slider-step'),
      wren: withoutPiece('cover'),
      siskin: withoutPiece('kick'),
    },
  },
  {
    name: 'the left one is a copy of the right one',
    rule: 'twin-not-mirrored',
    severity: 'warning',
    done: {
      fenlark: both(
        renamed('slider-step', 'slider-step-right'),
        copied('SLIDER-STEP', 'S-LH', aside(-1700, 0), 'slider-step-left', {
          side: 'left',
          material: 'carpet-loop',
          tucked: 'the door track cover',
        }),
      ),
      wren: both(
        both(said('rest', { side: 'right' }), renamed('rest', 'rest-right')),
        copied('REST', 'R-LH', aside(-1040, 0), 'rest-left', {
          side: 'left',
          material: 'loop',
          edge: 'bound',
        }),
      ),
      siskin: said('sill-left', { block: 'SILL-R' }),
    },
  },
  {
    name: 'there is a left one besides the pair',
    rule: 'besides-pair',
    severity: 'warning',
    done: {
      fenlark: copied('DOOR-STEP', 'D-STEP', aside(0, 0), 'door-step-right', {
        side: 'right',
        material: 'carpet-loop',
        tucked: 'the door seal',
      }),
      wren: copied('MAT', 'MAT-2', overMiddle, 'mat-lh', {
        side: 'left',
        material: 'loop',
        edge: 'bound',
        pad: 'rubber',
      }),
      siskin: said('sill-left', { side: 'pair', drawnSide: 'left' }),
    },
  },
  {
    name: 'the block is that of the other side',
    rule: 'block-side',
    severity: 'warning',
    done: {
      fenlark: both(
        renamedBlock('SLIDER-STEP', 'STEP-LH'),
        said('slider-step', { block: 'STEP-LH' }),
      ),
      wren: both(renamedBlock('MAT', 'MAT-L'), said('mat', { block: 'MAT-L' })),
      siskin: both(said('sill-left', { block: 'SILL-R' }), said('sill-right', { block: 'SILL-L' })),
    },
  },
  {
    name: 'a text says another material',
    rule: 'text-material',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('Material: rubber-ribbed', 800, -1100)),
      wren: more('COVER', note('MATERIAL: Rubber', -500, 60)),
      siskin: more('KICK', note('Material: board fibre', 100, 60)),
    },
  },
  {
    name: 'a text says another number',
    rule: 'text-quantity',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('Quantity: 1,1', 800, -1100)),
      wren: more('REST', note('Quantity: 3', 500, 760)),
      siskin: more('KICK', note('Quantity: 2,0', 100, 60)),
    },
  },
  {
    name: 'a text names the piece for the other side',
    rule: 'text-side',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('Piece Name: Slider step LH', 800, -1100)),
      wren: more('MAT', note('Piece Name: LH MAT', 300, 500)),
      siskin: more('SILL-L', note('Piece Name: SILL-R', 30, 300)),
    },
  },
  {
    name: 'a text says that the piece is for one hand only',
    rule: 'text-hand',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('LHD ONLY', 800, -1100)),
      wren: more('REST', note('only for RHD', 500, 760)),
      siskin: both(said('kick', { only: 'RHD' }), more('KICK', note('LHD only', 100, 60))),
    },
  },
];

function otherHand(hand: string): Change {
  return ({ blocks, content }) => ({ blocks, content: { ...content, drawn: hand } });
}

function renamedBlock(name: string, to: string): Change {
  return ({ blocks, content }) => ({
    content,
    blocks: blocks.map((block) => (block.name === name ? { ...block, name: to } : block)),
  });
}

describe('a sound set', () => {
  it.each(names)('%s: nothing is found', (name) => {
    expect(findingsOf(sound[name]())).toEqual([]);
  });
});

describe.each([...ways, ...sideWays])('$name', ({ rule, severity, done }) => {
  it.each(names)('is told: %s', (name) => {
    const told = findingsOf(done[name](sound[name]())).filter((one) => one.rule === rule);
    expect(told.length).toBeGreaterThan(0);
    const isSure = rule === 'drawn-elsewhere' && name === 'siskin';
    expect(told[0]!.severity).toBe(isSure ? 'error' : severity);
  });
});

describe('a centreline that lies level in the drawing, drawn from front to rear', () => {
  it.each([
    ['fenlark', 'BENCH-FRONT', 'pile-direction'],
    ['siskin', 'CAB-FLOOR', 'pile-direction'],
    // The set file does not say where its pile leans, so nothing else can show it.
    ['wren', 'FLOOR', 'axis-level'],
  ] as const)('is told: %s', (name, block, rule) => {
    const found = findingsOf(lyingWithAxisBackwards(block)(sound[name]()));
    expect(found.map((one) => one.rule)).toContain(rule);
  });

  it('does not tell the pile either, where none is drawn', () => {
    const undrawn = drawn('BENCH-FRONT', (entities) =>
      entities.filter(({ layer }) => layer !== 'PILE'),
    );
    expect(findingsOf(undrawn(sound.fenlark()))).toEqual([]);
    const level = both(undrawn, lyingWithAxisBackwards('BENCH-FRONT'));
    const rules = findingsOf(level(sound.fenlark())).map(({ rule }) => rule);
    expect(rules).toEqual(expect.arrayContaining(['no-pile', 'axis-level']));
  });
});

describe('the Fenlark with one side written wrong', () => {
  it.each([
    ['battery-lid', { side: 'right' }],
    ['filler-cover', { side: 'left' }],
    ['footrest', { side: 'passenger' }],
    ['footwell-mat', { drawnSide: 'left' }],
  ])('%s %j', (name, keys) => {
    const told = findingsOf(said(name, keys)(sound.fenlark()));
    expect(told.map(({ rule, where }) => `${rule} ${where.piece}`)).toContain(
      `drawn-elsewhere ${name}`,
    );
  });
});

describe('what is drawn, and no piece uses it', () => {
  const rulesOf = (set: TrialSet): string[] => findingsOf(set).map(({ rule }) => rule);
  const waived = (...unused: string[]): Change => {
    return ({ blocks, content }) => ({ blocks, content: { ...content, unused } });
  };

  it('is told in one line with all names, and not where the set file says so', () => {
    const less = both(withoutPiece('slider-step'), withoutPiece('rear-lip'));
    const [told, ...others] = findingsOf(less(sound.fenlark()));
    expect(others).toEqual([]);
    expect(told!.message).toContain('no piece of the set uses it: SLIDER-STEP, REAR-LIP.');
    expect(rulesOf(both(less, waived('rear-lip', 'SLIDER-STEP'))(sound.fenlark()))).toEqual([]);
    const [one] = findingsOf(both(less, waived('REAR-LIP'))(sound.fenlark()));
    expect(one!.message).toContain('uses it: SLIDER-STEP.');
  });

  it('what the set file waives is left over', () => {
    expect(rulesOf(waived('REAR-LIP')(sound.fenlark()))).toEqual(['unused-names-nothing']);
  });

  it('is no block of things to read, and not what import leaves out', () => {
    const added = (name: string, layer: string): TrialSet => {
      const { blocks, content } = sound.wren();
      return { content, blocks: [...blocks, { name, entities: on(layer, box(0, 0, 90, 50)) }] };
    };
    expect(rulesOf(added('FRAME', 'NOTE'))).toEqual([]);
    expect(rulesOf(added('LEFT-OUT', 'OUTLINE'))).toEqual([]);
    expect(rulesOf(added('STEP-L', 'OUTLINE'))).toEqual(['unused-block']);
    expect(rulesOf(added('STEP-L', 'CUTS'))).toEqual(['unused-block']);
  });
});

describe('one cause', () => {
  it('a wrong hand is told once', () => {
    for (const name of names) {
      const hand = name === 'siskin' ? 'RHD' : 'LHD';
      const rules = findingsOf(otherHand(hand)(sound[name]())).map(({ rule }) => rule);
      expect(rules).toEqual(['drawn-hand']);
    }
  });

  it('what goes with a person beyond the middle is decided by its own name', () => {
    const wrong = drawn('CAB-FLOOR', movedOn('CUTOUT-DRIVER', overMiddle));
    const decided = (text: string): string[] =>
      findingsOf(both(wrong, said('cab-floor', { decided: text }))(sound.fenlark()))
        .filter(({ severity }) => severity !== 'error')
        .map(({ rule }) => rule);
    expect(decided('the gear lever')).toContain('suffix-elsewhere');
    expect(decided('the gear lever; CUTOUT-DRIVER is right there')).toEqual([]);
  });

  it('an AXIS beside those of the other pieces is told where no outline shows its middle', () => {
    const moved = (off: number): Finding[] =>
      findingsOf(drawn('TOE-BOARD', movedOn('AXIS', aside(off, 0)))(sound.fenlark()));
    const told = moved(5).filter(({ rule }) => rule.startsWith('axis'));
    expect(told.map(({ rule, severity }) => `${severity} ${rule}`)).toEqual([
      'warning axis-beside',
    ]);
    expect(told[0]!.message).toContain('5 mm right of x = 0');
    expect(moved(0.4)).toEqual([]);
  });

  it('an AXIS that slants is right on an outline that slants with it', () => {
    const turned: Change = drawn('BENCH-FRONT', (entities) =>
      entities.map((one) => transformed(one, rotation(7))),
    );
    const rules = findingsOf(turned(sound.fenlark())).map(({ rule }) => rule);
    expect(rules).not.toContain('axis-askew');
    const alone = findingsOf(drawn('BENCH-FRONT', movedOn('AXIS', rotation(7)))(sound.fenlark()));
    expect(alone.map(({ rule }) => rule)).toContain('axis-askew');
  });
});

describe('a left and a right piece of one name', () => {
  it.each([
    ['as they are', {}, ['twin-not-mirrored']],
    ['decided', { decided: 'the sills are alike' }, []],
    ['one of them open', { open: { side: 'a guess' } }, ['open-question']],
  ])('%s', (_, keys, expected) => {
    const copy = both(said('sill-left', { block: 'S-2', ...keys }), ({ blocks, content }) => {
      const { entities } = blocks.find(({ name }) => name === 'SILL-R')!;
      return {
        content,
        blocks: [...blocks.filter(({ name }) => name !== 'SILL-L'), { name: 'S-2', entities }],
      };
    });
    expect(findingsOf(copy(sound.siskin())).map(({ rule }) => rule)).toEqual(expected);
  });

  const oblongSills = (left: Entity[], right: Entity[]): Change => {
    const path = box(0, 0, 70, 650);
    const pile = on('PILE', line([35, 330], [35, 270]));
    const sill = [on('OUTLINE', path), on('TUCK', path), pile].flat();
    return both(
      drawn('SILL-L', () => [...sill, ...left]),
      drawn('SILL-R', () => [...sill, ...right]),
    );
  };

  it('may be of one shape that is its own mirror image', () => {
    expect(findingsOf(oblongSills([], [])(sound.siskin()))).toEqual([]);
  });

  it('of one shape, each with its hole where the other has it', () => {
    const near = (x: number): Entity[] => on('HOLE', hole(x, 100, 8));
    const rules = (left: number, right: number): string[] =>
      findingsOf(oblongSills(near(left), near(right))(sound.siskin())).map(({ rule }) => rule);
    expect(rules(20, 50)).toEqual([]);
    expect(rules(20, 20)).toEqual(['twin-not-mirrored']);
    // No copy and no mirror image: each hole is asked about.
    expect(rules(20, 30)).toEqual(['twins-differ', 'twins-differ']);
  });
});

describe('texts that say the same as the set file', () => {
  it.each([
    ['SLIDER-STEP', 'Material: Carpet Loop'],
    ['SLIDER-STEP', 'Material: SELF'],
    ['SLIDER-STEP', 'Quantity: 1'],
    ['SLIDER-STEP', 'Quantity: 1,0'],
    ['SLIDER-STEP', 'Piece Name: SLIDER STEP RH'],
    ['DOOR-STEP', 'Quantity: 1,1'],
    ['DOOR-STEP', 'Quantity: 2'],
    ['FOOTWELL-MAT', 'Material: rubber-ribbed'],
    ['CAB-FLOOR', 'Piece Name: LH FLOOR'],
  ])('%s: %s', (block, words) => {
    const at = { 'DOOR-STEP': [980, 300], 'SLIDER-STEP': [800, -1100] }[block] ?? [500, 200];
    expect(findingsOf(more(block, note(words, at[0]!, at[1]!))(sound.fenlark()))).toEqual([]);
  });

  it('a name on a centre piece of which nothing is decided is told', () => {
    const named = more('REAR-LIP', note('Piece Name: REAR LIP LH', 300, -4600));
    const rules = findingsOf(named(sound.fenlark())).map(({ rule }) => rule);
    expect(rules).toContain('text-side');
  });

  it('a number is not answered by a decision, a hand is', () => {
    const decided = said('slider-step', { decided: 'the door is on the right' });
    const rules = (words: string): string[] =>
      findingsOf(both(decided, more('SLIDER-STEP', note(words, 800, -1100)))(sound.fenlark())).map(
        ({ rule }) => rule,
      );
    expect(rules('Quantity: 2,0')).toEqual(['text-quantity']);
    expect(rules('LHD only')).toEqual([]);
  });
});

describe('own names of layers', () => {
  it.each([
    ['CUTOUT-DRIVER', 'MARK', true],
    ['hole', 'NOTE', true],
    ['HOLE', 'hole', false],
    ['RED', 'MARK', false],
    ['4', 'MARK', false],
  ])('%s: %s', (own, means, refused) => {
    const check = (): Finding[] => {
      const { blocks, content } = sound.fenlark();
      return findingsOf({ blocks, content: { ...content, layers: { [own]: means } } });
    };
    if (refused) expect(check).toThrow(/means what its name says/);
    else expect(check()).toEqual([]);
  });
});
