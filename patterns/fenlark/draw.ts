/**
 * Draws the Fenlark's pieces: a camper van that never existed, drawn RHD. Run it with
 * `npm run draw:fenlark` after changing it; fenlark.dxf beside it is what the set reads.
 *
 * Everything stands in the vehicle's plan: x to the right of the centreline, y forward of the seat
 * boxes, mm. Pieces that stand upright in the vehicle are folded down flat beside where they stand.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Block, Entity } from '../../src/drawing/drawing.ts';
import { writeR12 } from '../../src/drawing/writing/write-r12.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { alongPath, pathLength } from '../../src/geometry/paths/path.ts';
import { meaningOf, roleColours } from '../../src/pattern/layers.ts';
import { along, box, hole, line, marks, named, note, on, outline, points } from './pen.ts';

const axis = on('AXIS', line([0, -100], [0, 100]));
/** The pile leans to the rear on everything that lies flat. */
const rearward = (x: number, y: number): Entity[] => on('PILE', line([x, y + 60], [x, y - 60]));

function block(name: string, path: Path, ...features: Entity[][]): Block {
  return { name, entities: [...on('OUTLINE', path), ...features.flat()] };
}

function cabFloor(): Block {
  // From the seat boxes to the toe board, with the walk-through between the seats; the front wheels
  // push in from both sides.
  const path = outline(
    [-805, 0],
    [-170, 0, { r: 25 }],
    [-170, -420, { r: 30 }],
    [170, -420, { r: 30 }],
    [170, 0, { r: 25 }],
    [805, 0],
    [805, 300, { b: -0.06 }],
    [742, 520, { b: -0.22 }],
    [600, 700, { b: -0.03 }],
    [590, 770],
    [-590, 770, { b: -0.03 }],
    [-600, 700, { b: -0.22 }],
    [-742, 520, { b: -0.06 }],
    [-805, 300],
  );
  return block(
    'CAB-FLOOR',
    path,
    axis,
    rearward(0, 180),
    on(
      'SEAM',
      along(path, [-805, 0], [-195, 0]),
      along(path, [195, 0], [805, 0]),
      along(path, [590, 770], [-590, 770]),
    ),
    on('RAW', along(path, [-195, 0], [-170, -390]), along(path, [170, -390], [195, 0])),
    on('BOUND', along(path, [-170, -390], [170, -390])),
    on('TUCK', along(path, [805, 0], [590, 770]), along(path, [-590, 770], [-805, 0])),
    on('CUTOUT', box(-62, 395, 68, 560, 28)),
    on(
      'CUTOUT-DRIVER',
      outline(
        [428, 640, { r: 14 }],
        [486, 640, { r: 14 }],
        [498, 718, { r: 14 }],
        [440, 718, { r: 14 }],
      ),
    ),
    on(
      'CUTOUT-RIGHT',
      outline(
        [72, -330, { r: 20 }],
        [118, -330, { r: 20 }],
        [126, -90, { r: 20 }],
        [80, -90, { r: 20 }],
      ),
    ),
    on('HOLE-LEFT', hole(-318, 655, 19)),
    on(
      'HOLE',
      ...[-620, -330, 330, 620].map((x) => hole(x, 62, 14)),
      hole(-742, 130, 18),
      hole(742, 130, 18),
    ),
    marks('HOLE', 'sill-screw', [-782, 60], [-782, 250], [782, 60], [782, 250]),
    named('SEAM', 'box', -500, 0),
    named('SEAM', 'box', 500, 0),
    named('SEAM', 'toe', 0, 770),
    points('NOTCH', [-700, 0], [-420, 0], [420, 0], [700, 0]),
    // The toe board changes side with the driver, and so do the notches it is sewn to.
    points('NOTCH-DRIVER', [430, 770], [60, 770], [-330, 770]),
    on('MARK-DRIVER', box(300, 270, 560, 540, 35)),
    [note('CAB FLOOR', -560, 250)],
  );
}

function toeBoard(): Block {
  // Sewn to the front of the cab floor and tucked behind the dash; the pedal box cuts into its top.
  const path = outline(
    [-590, 800],
    [590, 800, { b: -0.05 }],
    [642, 1010, { b: 0.12 }],
    [612, 1105],
    [545, 1118, { r: 25 }],
    [522, 985, { r: 42 }],
    [312, 985, { r: 42 }],
    [290, 1130, { r: 25 }],
    [40, 1140, { b: 0.04 }],
    [-612, 1105, { b: 0.12 }],
    [-642, 1010, { b: -0.05 }],
  );
  return block(
    'TOE-BOARD',
    path,
    axis,
    rearward(0, 950),
    on('SEAM', along(path, [-590, 800], [590, 800])),
    on('TUCK', along(path, [590, 800], [-590, 800])),
    points('NOTCH', [430, 800], [60, 800], [-330, 800]),
    on('HOLE-PASSENGER', hole(-402, 1000, 33), hole(-318, 1000, 33)),
    on('HOLE-RIGHT', hole(186, 1050, 22)),
    on('HOLE-LEFT', hole(-118, 1068, 15)),
    on('HOLE-DRIVER', hole(438, 880, 27)),
    on('STITCH', line([-560, 835], [560, 835])),
    [note('TOE BOARD', -330, 890)],
  );
}

function footwellMat(): Block {
  // A loose mat, bound all round, one for each side; the driver's has the heel pad.
  const path = outline(
    [206, 60, { r: 60 }],
    [752, 60, { r: 60 }],
    [752, 300, { b: -0.05 }],
    [700, 470, { b: -0.2 }],
    [600, 590],
    [590, 618, { r: 8 }],
    [250, 618, { r: 70 }],
  );
  return block(
    'FOOTWELL-MAT',
    path,
    rearward(480, 250),
    on('BOUND', path),
    on('PAD-DRIVER', box(300, 270, 560, 540, 35)),
    on('STITCH-DRIVER', box(306, 276, 554, 534, 29)),
    on('HOLE', hole(250, 108, 11)),
    on('CUTOUT-PASSENGER', box(258, 400, 286, 520, 13)),
    on('HOLE-LEFT', hole(690, 112, 16)),
    on(
      'CUTOUT-DRIVER',
      outline(
        [602, 380, { r: 12 }],
        [634, 380, { r: 12 }],
        [624, 460, { r: 12 }],
        [592, 460, { r: 12 }],
      ),
    ),
    [note('MAT', 420, 150)],
  );
}

function footrest(): Block {
  // The driver's left-foot rest on its board, beside the tunnel.
  const path = outline(
    [182, 650, { r: 18 }],
    [296, 664, { r: 18 }],
    [286, 900, { r: 30 }],
    [178, 888, { r: 30 }],
  );
  return block(
    'FOOTREST',
    path,
    rearward(230, 790),
    on('TUCK', path),
    on('HOLE-RIGHT', hole(262, 706, 10)),
    marks('HOLE', 'footrest-screw', [202, 690], [264, 862], [204, 856]),
  );
}

function gloveShelf(): Block {
  // The passenger's shelf under the dash: board, bound front lip.
  const path = outline(
    [-560, 1180, { r: 40 }],
    [-150, 1180, { r: 40 }],
    [-120, 1400, { b: 0.1 }],
    [-585, 1390],
  );
  return block(
    'GLOVE-SHELF',
    path,
    rearward(-350, 1280),
    on('BOUND', along(path, [-585, 1390], [-120, 1400])),
    on('TUCK', along(path, [-120, 1400], [-585, 1390])),
    on('CUTOUT-LEFT', box(-520, 1225, -420, 1265, 14)),
    marks('HOLE', 'shelf-clip', [-480, 1350], [-220, 1350]),
  );
}

function seatBoxFront(): Block {
  // Upright face of the seat box, sewn to the cab floor at its foot; folded back flat.
  const path = outline([195, -335, { r: 30 }], [805, -350], [805, -20], [195, -20]);
  return block(
    'SEAT-BOX-FRONT',
    path,
    rearward(330, -180),
    on('SEAM', along(path, [805, -20], [195, -20])),
    on('BOUND', along(path, [195, -20], [225, -335])),
    on('RAW', along(path, [225, -335], [805, -20])),
    points('NOTCH', [420, -20], [700, -20]),
    on(
      'CUTOUT',
      box(470, -250, 500, -90, 14),
      box(530, -250, 560, -90, 14),
      box(590, -250, 620, -90, 14),
    ),
  );
}

function batteryLid(): Block {
  // The lid over the battery, fixed to the body on the left; the seat slide's slot goes with the driver.
  const path = outline(
    [-800, -800, { r: 30 }],
    [-215, -800, { r: 30 }],
    [-215, -385, { r: 30 }],
    [-800, -385, { r: 30 }],
  );
  return block(
    'BATTERY-LID',
    path,
    rearward(-300, -600),
    on('BOUND', along(path, [-245, -800], [-800, -415])),
    on('TUCK', along(path, [-800, -415], [-245, -800])),
    on('CUTOUT', box(-560, -740, -460, -705, 16)),
    on('HOLE-DRIVER', hole(-690, -460, 20), hole(-690, -640, 20)),
    on('HOLE', hole(-255, -430, 9), hole(-255, -755, 9)),
  );
}

function fillerCover(): Block {
  // Over the fuel filler's neck inside the right wall.
  const path = outline(
    [870, 700, { r: 25 }],
    [1140, 690, { b: 0.08 }],
    [1150, 930, { r: 45 }],
    [860, 940, { r: 45 }],
  );
  return block(
    'FILLER-COVER',
    path,
    on('PILE', line([1070, 720], [950, 720])),
    on('TUCK', path),
    on('CUTOUT', hole(1010, 822, 56)),
    on('HOLE-PASSENGER', hole(920, 750, 10)),
    marks('HOLE', 'trim-screw', [890, 900], [1120, 900]),
  );
}

function doorStep(): Block {
  // The well inside each cab door, folded down over the sill's edge.
  const path = outline(
    [835, 20, { r: 20 }],
    [985, 30, { b: 0.1 }],
    [1010, 300, { b: 0.16 }],
    [940, 565],
    [835, 560, { r: 15 }],
  );
  return block(
    'DOOR-STEP',
    path,
    rearward(915, 300),
    on('TUCK', along(path, [835, 545], [835, 40])),
    on('BOUND', along(path, [835, 40], [835, 545])),
    on('FOLD', line([868, 22.2], [868, 561])),
    on('CUTOUT', box(905, 90, 945, 170, 18)),
    points('HOLE', [850, 100], [850, 300], [850, 480]),
  );
}

function livingFloor(): Block {
  // Between the walls from the cab's threshold to the rear lip; wheel boxes push in, and the sliding
  // door's step takes the right front corner.
  const path = outline(
    [-795, -2760, { r: 35 }],
    [795, -2760, { r: 35 }],
    [795, -2290, { r: 20 }],
    [560, -2290, { r: 70 }],
    [560, -1560, { r: 70 }],
    [795, -1560, { r: 20 }],
    [795, -1420, { r: 50 }],
    [655, -1250, { r: 160 }],
    [640, -860],
    [-795, -860, { r: 25 }],
    [-795, -1560, { r: 20 }],
    [-560, -1560, { r: 70 }],
    [-560, -2290, { r: 70 }],
    [-795, -2290, { r: 20 }],
  );
  return block(
    'LIVING-FLOOR',
    path,
    axis,
    rearward(0, -1250),
    on('BOUND', along(path, [795, -1455], [-770, -860])),
    on(
      'TUCK',
      along(path, [775, -2290], [775, -1560]),
      along(path, [-775, -1560], [-775, -2290]),
      along(path, [-760, -2760], [760, -2760]),
    ),
    on(
      'RAW',
      along(path, [760, -2760], [775, -2290]),
      along(path, [775, -1560], [795, -1455]),
      along(path, [-770, -860], [-775, -1560]),
      along(path, [-775, -2290], [-760, -2760]),
    ),
    on('HOLE-WITH-TABLE', hole(-205, -1520, 47)),
    on(
      'HOLE',
      hole(-480, -1080, 17),
      hole(-480, -1240, 17),
      hole(430, -2480, 17),
      hole(-430, -2480, 17),
    ),
    on('CUTOUT', box(90, -2660, 330, -2380, 24)),
    on(
      'CUTOUT-LEFT',
      outline(
        [-700, -1470, { r: 22 }],
        [-560, -1450, { r: 22 }],
        [-560, -1300, { r: 22 }],
        [-700, -1300, { r: 22 }],
      ),
    ),
    on('MARK', line([-150, -900], [150, -900])),
    // Where the drain of the water tank comes up differs from van to van, so it is cut on site.
    on('MARK', hole(-330, -2560, 30)),
    named('MARK', 'tank-drain', -330, -2560),
    [note('LIVING FLOOR', -420, -1900, 60)],
  );
}

/** The arch of the wheel box, standing on the floor; folded outwards. Higher at its front. */
const archFace = outline(
  [845, -2290],
  [845, -1560],
  [1105, -1560, { r: 225 }],
  [1075, -2290, { r: 205 }],
);
/** The arch alone, from the rear foot over the top to the front foot. */
const arch = along(archFace, [845, -2290], [845, -1560]);
/** Places along the seam that meet, as shares of its length; uneven, so that no end can be taken for the other. */
const seamNotches = [0.2, 0.45, 0.8];

function wheelBoxSide(): Block {
  const length = pathLength(arch);
  return block(
    'WHEEL-BOX-SIDE',
    archFace,
    rearward(980, -1920),
    on('SEAM', arch),
    on('TUCK', along(archFace, [845, -1560], [845, -2290])),
    points(
      'NOTCH',
      ...seamNotches
        .map((share) => alongPath(arch, length * share).point)
        .map(({ x, y }) => [x, y] as const),
    ),
  );
}

function wheelBoxTop(): Block {
  // The band over the arch, as long as the arch is round, sewn to its face.
  const length = pathLength(arch);
  const [x0, x1] = [1180, 1400];
  const [y0, y1] = [-2650, -2650 + length];
  const path = outline([x0, y0], [x1, y0], [x1, y1], [x0, y1]);
  return block(
    'WHEEL-BOX-TOP',
    path,
    rearward(1290, -2000),
    on('SEAM', along(path, [x0, y1], [x0, y0])),
    on('TUCK', along(path, [x0, y0], [x0, y1])),
    points('NOTCH', ...seamNotches.map((share) => [x0, y0 + length * share] as const)),
    on('CUTOUT-RIGHT', box(1270, -2420, 1310, -2330, 16)),
  );
}

function longWall(): Block {
  // Lower lining of the left wall, folded outwards; its foot is cut away over the wheel box.
  const path = outline(
    [-1480, -2760, { r: 20 }],
    [-1480, -2320, { b: -0.42 }],
    [-1480, -1530],
    [-1480, -870, { r: 30 }],
    [-1885, -885, { r: 60 }],
    [-1920, -1500, { b: 0.02 }],
    [-1920, -2300],
    [-1870, -2745, { r: 80 }],
  );
  return block(
    'LONG-WALL',
    path,
    on('PILE', line([-1860, -1300], [-1740, -1300])),
    on(
      'RAW',
      along(path, [-1480, -1530], [-1480, -900]),
      along(path, [-1480, -2740], [-1480, -2320]),
    ),
    on('TUCK', along(path, [-1480, -2320], [-1480, -1530])),
    on('BOUND', along(path, [-1480, -900], [-1480, -2740])),
    on('CUTOUT', box(-1800, -1180, -1640, -1010, 30)),
    on('HOLE', hole(-1835, -2560, 21)),
    points('HOLE', [-1885, -1100], [-1900, -1700], [-1890, -2250], [-1855, -2660]),
    [note('LONG WALL', -1800, -1980)],
  );
}

function shortWall(): Block {
  // The right wall behind the sliding door, so much shorter.
  const path = outline(
    [1480, -2760, { r: 20 }],
    [1870, -2745, { r: 80 }],
    [1915, -2300, { b: 0.03 }],
    [1915, -1650],
    [1890, -1420, { r: 60 }],
    [1480, -1390, { r: 25 }],
    [1480, -1530, { b: -0.42 }],
    [1480, -2320],
  );
  return block(
    'SHORT-WALL',
    path,
    on('PILE', line([1860, -2500], [1740, -2500])),
    on('RAW', along(path, [1480, -2320], [1480, -2740]), along(path, [1480, -1415], [1480, -1530])),
    on('TUCK', along(path, [1480, -1530], [1480, -2320])),
    on('BOUND', along(path, [1480, -2740], [1480, -1415])),
    on('HOLE', hole(1840, -2560, 21)),
    on('CUTOUT', box(1610, -2690, 1770, -2600, 14)),
    points('HOLE', [1885, -1700], [1890, -2150]),
    [note('SHORT WALL', 1690, -2050)],
  );
}

function sliderStep(): Block {
  // The step inside the sliding door, folded over its nose.
  const path = outline(
    [690, -855],
    [695, -1245, { r: 160 }],
    [822, -1440],
    [930, -1440, { r: 25 }],
    [930, -855, { r: 25 }],
  );
  return block(
    'SLIDER-STEP',
    path,
    rearward(800, -1000),
    on('TURNED', along(path, [822, -1440], [690, -855])),
    on('TUCK', along(path, [690, -855], [822, -1440])),
    on('FOLD', line([890, -1438], [890, -857])),
    on('HOLE', hole(820, -1330, 16)),
    points('HOLE', [790, -890], [860, -1130]),
  );
}

function rearDoor(): Block {
  // Lower lining of the rear doors, drawn for the left leaf, on a board; the lock sits in the right one.
  const path = outline(
    [-770, -3330, { r: 55 }],
    [-60, -3340, { r: 15 }],
    [-60, -2900, { r: 15 }],
    [-720, -2900, { r: 95 }],
  );
  return block(
    'REAR-DOOR',
    path,
    rearward(-200, -3200),
    on('TUCK', path),
    on(
      'CUTOUT',
      outline(
        [-600, -3060, { r: 24 }],
        [-380, -3060, { r: 24 }],
        [-380, -2990, { r: 24 }],
        [-600, -2990, { r: 24 }],
      ),
    ),
    on('CUTOUT-RIGHT', box(-170, -3150, -100, -3030, 18)),
    points('HOLE', [-680, -3260], [-120, -3280], [-120, -2960], [-650, -2960]),
  );
}

function benchFront(): Block {
  // Front of the rear bench on its board, with vents and a hand hole.
  const path = outline(
    [-700, -3760, { r: 12 }],
    [700, -3760, { r: 12 }],
    [700, -3420, { r: 45 }],
    [-700, -3420, { r: 45 }],
  );
  const vent = (x: number): Path => box(x, -3690, x + 150, -3662, 13);
  return block(
    'BENCH-FRONT',
    path,
    axis,
    rearward(-560, -3550),
    on('BOUND', along(path, [700, -3465], [-700, -3465])),
    on('TUCK', along(path, [-700, -3465], [700, -3465])),
    on('CUTOUT', box(-62, -3520, 62, -3478, 20), vent(-420), vent(-220), vent(70), vent(270)),
  );
}

function rearLip(): Block {
  // Over the rear threshold, folded down behind the bumper. Drawn half, to the right of the centreline.
  const path = outline(
    [0, -2945],
    [745, -2945, { r: 25 }],
    [770, -2795, { b: 0.005 }],
    [0, -2787.3],
  );
  return block(
    'REAR-LIP',
    path,
    on('AXIS', line([0, -3000], [0, -2700])),
    rearward(600, -2870),
    on('TUCK', along(path, [770, -2795], [0, -2787.3])),
    on('BOUND', along(path, [0, -2945], [770, -2795])),
    on('FOLD', line([760, -2850], [0, -2850])),
    on('CUTOUT', outline([0, -2925], [45, -2925, { r: 18 }], [45, -2880, { r: 18 }], [0, -2880])),
  );
}

const blocks: Block[] = [
  cabFloor(),
  toeBoard(),
  footwellMat(),
  footrest(),
  gloveShelf(),
  seatBoxFront(),
  batteryLid(),
  fillerCover(),
  doorStep(),
  livingFloor(),
  wheelBoxSide(),
  wheelBoxTop(),
  longWall(),
  shortWall(),
  sliderStep(),
  rearDoor(),
  benchFront(),
  rearLip(),
];

const layers = [
  ...new Set(blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer))),
].sort();
const text = writeR12({
  layers: layers.map((name) => ({ name, colour: roleColours[meaningOf(name, new Map())!.role] })),
  blocks,
  inserts: blocks.map(({ name }) => ({ block: name, layer: 'OUTLINE', at: { x: 0, y: 0 } })),
  entities: [],
});
writeFileSync(join(import.meta.dirname, 'fenlark.dxf'), text);
