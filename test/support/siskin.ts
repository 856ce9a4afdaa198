/**
 * The Siskin, a pickup that never existed: six pieces, each drawn from its own corner and put in its
 * place by `at`; with an AXIS on the centre pieces, a pair, a left and a right piece of one kind, and one
 * that goes with the passenger. Drawn LHD, mm. Its materials are those of the project.
 */
import { box, hole, line, on, outline, points } from '../../patterns/fenlark/pen.ts';
import type { Block, Entity } from '../../src/drawing/drawing.ts';

const rearward = (x: number, y: number): Entity[] => on('PILE', line([x, y + 30], [x, y - 30]));

/** 900 x 700, bound all round, with a fold across and two holes that are each other's mirror image. */
function cabFloor(): Block {
  const path = box(0, 0, 900, 700);
  const entities = [
    on('OUTLINE', path),
    on('AXIS', line([450, 0], [450, 700])),
    rearward(450, 350),
    on('BOUND', path),
    on('FOLD', line([0, 300], [900, 300])),
    on('HOLE', hole(200, 500, 12), hole(700, 500, 12)),
    on('CUTOUT-DRIVER', box(150, 580, 230, 640, 15)),
    points('NOTCH', [450, 700]),
  ];
  return { name: 'CAB-FLOOR', entities: entities.flat() };
}

/** The left one, with a corner off and the driver's heel pad. */
function mat(): Block {
  const path = outline(
    [0, 0, { r: 30 }],
    [300, 0, { r: 30 }],
    [300, 420, { r: 30 }],
    [60, 420],
    [0, 340],
  );
  const entities = [
    on('OUTLINE', path),
    rearward(40, 200),
    on('BOUND', path),
    on('PAD-DRIVER', box(80, 60, 220, 240, 20)),
  ];
  return { name: 'MAT', entities: entities.flat() };
}

/** Over the sill beside a seat, 70 x 650, with a corner off at its outer front. */
function sill(side: 'L' | 'R'): Block {
  const path =
    side === 'L'
      ? outline([0, 0], [70, 0], [70, 650], [30, 650], [0, 600])
      : outline([0, 0], [70, 0], [70, 600], [40, 650], [0, 650]);
  const entities = [
    on('OUTLINE', path),
    rearward(35, 300),
    on('TUCK', path),
    points('NOTCH', side === 'L' ? [70, 200] : [0, 200]),
  ];
  return { name: `SILL-${side}`, entities: entities.flat() };
}

/** The passenger's kick board, 240 x 260. */
function kick(): Block {
  const path = outline([0, 0], [240, 0], [240, 200], [190, 260], [0, 260]);
  const entities = [on('OUTLINE', path), rearward(100, 130), on('TUCK', path)];
  return { name: 'KICK', entities: entities.flat() };
}

/** Behind the seats, 900 x 180: drawn half, to the right of its middle. */
function backWall(): Block {
  const path = outline([0, 0], [450, 0, { r: 40 }], [450, 180], [0, 180]);
  const entities = [
    on('OUTLINE', path),
    on('AXIS', line([0, 0], [0, 180])),
    rearward(300, 90),
    on('TUCK', line([450, 40], [450, 180], [0, 180])),
    on('CUTOUT', box(200, 60, 260, 120, 15)),
  ];
  return { name: 'BACK-WALL', entities: entities.flat() };
}

export function siskinBlocks(): Block[] {
  return [cabFloor(), mat(), sill('L'), sill('R'), kick(), backWall()];
}

export const siskinSet = `title: Siskin pickup, cab
drawn: LHD
units: mm
drawing: siskin.dxf
pile: rearward
binding: binding-22
pieces:
  cab-floor: { side: centre, material: carpet-loop, at: [0, 40] }
  mat: { side: pair, drawnSide: left, material: carpet-loop, at: [-400, 140], pad: rubber-ribbed }
  sill-left: { block: SILL-L, side: left, material: carpet-loop, at: [-540, 60], tucked: the door seal }
  sill-right: { block: SILL-R, side: right, material: carpet-loop, at: [470, 60], tucked: the door seal }
  kick: { side: passenger, material: carpet-loop, at: [180, 760], tucked: the dash }
  back-wall:
    side: centre
    half: true
    material: carpet-loop
    at: [0, -180]
    edge: bound
    tucked: the window seal
`;
