import { readFileSync } from 'node:fs';
import type { Entity } from '../../src/drawing/drawing.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import type { Files } from '../support/wren.ts';
import {
  drawingFile,
  redrawn,
  replaced,
  runFile,
  setFile,
  without,
  wren,
} from '../support/wren.ts';

/** Something wrong with what the product is given, and what it must say. */
export interface Case {
  readonly what: string;
  /** The Wren with one thing wrong; the Wren itself if left out. */
  readonly files?: Files;
  /** The run is cut if left out. */
  readonly args?: readonly string[];
  /** All that the message must say: what, where, what to do. */
  readonly says: readonly string[];
  /** How many lines that are, where it matters. */
  readonly lines?: number;
  /** 2 if left out. */
  readonly code?: number;
}

export const cutRun = ['cut', runFile];
const checkSet = ['check', 'patterns/wren'];

/** A profile of the project with one line of it changed, and a run that names it. */
function profile(from: string, line: RegExp, by: string): Files {
  const text = readFileSync(`shared/cutters/${from}.yaml`, 'utf8');
  if (!line.test(text)) throw new Error(`${from} has no line like ${line}`);
  return {
    ...replaced(wren, runFile, 'cutter: long-bay', 'cutter: mine'),
    [mine]: text.replace(line, by),
  };
}

const mine = 'shared/cutters/mine.yaml';

/** A mesh of faces, as three-dimensional programs leave them behind. */
const mesh =
  '0\nSECTION\n2\nENTITIES\n0\nPOLYLINE\n8\nX\n66\n1\n70\n64\n0\nVERTEX\n8\nX\n10\n0\n20\n0\n70\n192\n0\nSEQEND\n0\nENDSEC\n0\nEOF\n';

const profileCases: readonly Case[] = [
  {
    what: 'a cutting feed of 0',
    files: profile('long-bay', /cut: 18000/, 'cut: 0'),
    says: [`${mine}:`, '"feeds.cut"', 'more than 0 is allowed'],
  },
  {
    what: 'a knife that is lower up than down',
    files: profile('small-table', /swivelDepth: 1.5/, 'swivelDepth: 16'),
    says: [
      `${mine}:`,
      '"knife.swivelDepth"',
      'more than heights.cut (-0.3)',
      'less than heights.travel (15)',
    ],
  },
  {
    what: 'a knife that travels in the bed',
    files: profile('long-bay', /travel: 18 /, 'travel: -1 '),
    says: [`${mine}:`, '"heights.travel"', 'more than 0 is allowed'],
  },
  {
    what: 'an offset below 0',
    files: profile('small-table', /offset: 6/, 'offset: -6'),
    says: [`${mine}:`, '"knife.offset"', 'more than 0 is allowed'],
  },
  {
    what: 'a threshold above 180 degrees',
    files: profile('long-bay', /liftAboveDeg: 15/, 'liftAboveDeg: 181'),
    says: [`${mine}:`, '"knife.liftAboveDeg"', 'at most 180 is allowed'],
  },
  {
    // The floor is 1100 mm wide, with a tuck of 30 mm at each side.
    what: 'a bed narrower than the widest part',
    files: profile('long-bay', /width: 2100/, 'width: 500'),
    says: [`${mine}:8:3`, 'is 500 mm across the roll', 'bed.width must be at least 1160'],
  },
  {
    // And 900 mm long, with a seam of 10 mm in front.
    what: 'a bed shorter than the longest part, without joins',
    files: profile('long-bay', /length: 3200/, 'length: 700'),
    says: [
      `${mine}:7:3`,
      'is 700 mm along the roll',
      'bed.length must be at least 910',
      'bed.joinOverlap',
    ],
  },
  {
    what: 'a lead-in too short to turn the knife',
    files: profile('small-table', /offset: 6.*/, 'offset: 6\n  leadIn: 20'),
    says: [`${mine}:`, '"knife.leadIn"', 'at least 7 times knife.offset (42)'],
  },
  {
    what: 'inches with three decimals',
    files: profile('long-bay', /units: mm.*/, 'units: inch'),
    says: [`${mine}:`, '"program.decimals"', '4 to 6'],
  },
  {
    what: 'chords coarser than the proof takes',
    files: profile('long-bay', /arcs: exact.*/, 'arcs: { chordError: 0.5 }'),
    says: [`${mine}:`, '"program.arcs.chordError"', 'at most 0.03 is allowed'],
  },
  {
    what: 'a blade that leans over the gap',
    files: profile('long-bay', /leanFrontDeg: 8/, 'leanFrontDeg: 60'),
    says: ['the blade of mine leans', 'the gap between parts is 6 mm', 'Set gap of'],
  },
  {
    what: 'an unknown flavour of drawing',
    files: profile('long-bay', /dxf: r12.*/, 'dxf: r14'),
    says: [`${mine}:`, '"dxf"', 'is none of: r12, r2007'],
  },
  {
    what: 'a line of its own outside the subset',
    files: profile('long-bay', /before: \[\].*/, 'before: ["G91"]'),
    says: ['mine.yaml, program.before:1', 'G91 is not used here'],
  },
];

const runCases: readonly Case[] = [
  {
    what: 'a run file without a cutter',
    files: replaced(wren, runFile, 'cutter: long-bay\n', ''),
    says: [runFile, '"cutter" is missing', 'Add it'],
  },
  {
    what: 'a sheet of labels that nobody has',
    files: replaced(wren, runFile, 'cutter: long-bay', 'cutter: long-bay\nlabels: a4-99'),
    says: [runFile, 'no label sheet "a4-99"', 'labels'],
  },
  {
    what: 'labels that reach past their sheet',
    files: {
      ...replaced(wren, runFile, 'cutter: long-bay', 'cutter: long-bay\nlabels: mine'),
      'shared/labels/mine.yaml':
        'title: mine\nsheet: { width: 210, height: 297 }\ncolumns: 4\nrows: 5\nlabel: { width: 63.5, height: 38 }\nleft: 7\ntop: 15\ngapAcross: 2.5\ngapDown: 0\n',
    },
    says: ['shared/labels/mine.yaml:3', 'columns', 'reach to 268.5 mm', 'ends at 210 mm'],
  },
  {
    what: 'a price with a comma',
    files: replaced(wren, 'shared/materials/loop.yaml', /^kind/m, 'price: 24,50 EUR\nkind'),
    says: ['shared/materials/loop.yaml:2', 'price', '"24.50 EUR"'],
  },
  {
    what: 'a run file that is not there',
    files: without(wren, runFile),
    says: [runFile, 'there is no run file here', 'Check the name'],
  },
  {
    what: 'a folder for a run file',
    args: ['cut', 'patterns/wren'],
    says: ['patterns/wren: this is a folder, not a run file'],
  },
  {
    what: 'a folder for an instance',
    args: ['nest', 'patterns/wren', '--out', 'placements.json'],
    says: ['patterns/wren: this is a folder, not an instance'],
  },
  {
    what: 'an empty run file',
    files: { ...wren, [runFile]: '' },
    says: [runFile, 'the run file has no keys with values'],
  },
  {
    what: 'YAML that is none',
    files: replaced(wren, runFile, 'orders:', 'orders: ['),
    says: [`${runFile}:5:3`, 'Mend the YAML there'],
  },
  {
    what: 'an unknown key',
    files: replaced(wren, runFile, 'effort', 'effrot'),
    says: [`${runFile}:3:1`, '"effrot" is not a key of the run file', 'Check the spelling'],
  },
  {
    what: 'a roll called like nothing that can be a name',
    files: replaced(wren, runFile, 'loop: {', '__proto__: {'),
    says: [`${runFile}:8:3`, '"rolls.__proto__" is no name'],
  },
  {
    what: 'an unknown hand',
    files: replaced(wren, runFile, 'hand: LHD', 'hand: left'),
    says: [`${runFile}:6:29`, 'orders.1.hand', 'is none of: RHD, LHD'],
  },
  {
    what: 'a quantity of 0',
    files: replaced(wren, runFile, 'quantity: 2', 'quantity: 0'),
    says: [`${runFile}:5:40`, 'orders.0.quantity', 'at least 1 is allowed'],
  },
  {
    what: 'an effort of 0',
    files: replaced(wren, runFile, 'effort: 2', 'effort: 0'),
    says: [`${runFile}:3:1`, '"effort"', 'at least 1 is allowed'],
  },
  {
    what: 'a seed that is no whole number',
    files: replaced(wren, runFile, 'effort: 2', 'seed: 1.5'),
    says: [`${runFile}:3:1`, '"seed"', 'is no whole number'],
  },
  {
    what: 'two orders of one name',
    files: replaced(wren, runFile, 'order: A2', 'order: A1'),
    says: [`${runFile}:6:7`, 'order "A1" is there twice', 'raise its quantity'],
  },
  {
    what: 'an order whose name has 5000 letters',
    files: replaced(wren, runFile, 'order: A2', `order: ${'a'.repeat(5000)}`),
    says: [`${runFile}:6:7`, 'orders.1.order', 'at most 40 letters go into the names of files'],
    lines: 1,
  },
  {
    what: 'a customer of 5000 letters',
    files: replaced(wren, runFile, 'order: A2', `order: A2, customer: ${'a'.repeat(5000)}`),
    says: [`${runFile}:6:18`, 'orders.1.customer', 'at most 60 letters fit on a label'],
    lines: 1,
  },
  {
    what: 'an order whose name is a number',
    files: replaced(wren, runFile, 'order: A2', 'order: 1042'),
    says: [`${runFile}:6:7`, 'orders.1.order', 'is no text: put it in quotes'],
  },
  {
    what: 'a set that is not there',
    files: replaced(wren, runFile, 'set: wren, hand: LHD', 'set: robin, hand: LHD'),
    says: ['patterns/robin/set.yaml', 'there is no set file here'],
  },
  {
    what: 'an unknown cutter',
    files: replaced(wren, runFile, 'long-bay', 'long-boy'),
    says: [
      `${runFile}:2:1`,
      'no cutter profile "long-boy"',
      'There are: conveyor-bed, long-bay, small-table.',
    ],
  },
  {
    what: 'an unknown cutter on the command line',
    args: [...cutRun, '--cutter', 'short-bay'],
    says: ['no cutter profile "short-bay"', 'There are: conveyor-bed, long-bay, small-table.'],
  },
  {
    what: 'a colour that the tape is not kept in',
    files: replaced(
      replaced(wren, 'shared/bindings/tape.yaml', 'width', 'colours: [black]\nwidth'),
      runFile,
      'binding: black',
      'binding: pink',
    ),
    says: [`${runFile}:5:53`, 'order "A1" is to be bound in pink', 'Colours: black.'],
  },
  {
    what: 'a roll of a material that nothing is cut from',
    files: replaced(wren, runFile, '  loop:', '  velour:'),
    says: [runFile, 'a roll of "velour"', 'loop, board, rubber'],
  },
];

const setCases: readonly Case[] = [
  {
    what: 'a set without pieces',
    files: replaced(wren, setFile, /pieces:[^]*/, 'pieces: {}\n'),
    says: [`${setFile}:6:1`, 'at least one piece'],
  },
  {
    what: 'an unknown material',
    files: replaced(wren, setFile, 'outline: driver, material: loop', 'material: lop'),
    says: [`${setFile}:8:`, 'no material "lop"', 'There are: board, loop, rubber.'],
  },
  {
    what: 'an unknown side',
    files: replaced(wren, setFile, 'side: left', 'side: nearside'),
    says: [`${setFile}:11:12`, 'pieces.cover.side', 'centre, pair, left, right'],
  },
  {
    what: 'a pair of which nothing says the drawn half',
    files: replaced(wren, setFile, 'drawnSide: right, ', ''),
    says: [`${setFile}:9:3`, 'piece "mat" is a pair', 'Add drawnSide'],
  },
  {
    what: 'a block that is not there',
    files: replaced(wren, setFile, 'side: driver,', 'side: driver, block: RUST,'),
    says: [`${setFile}:10:3`, 'looks for a block "RUST"', 'FLOOR, DASH, MAT, REST, COVER'],
  },
  {
    what: 'a raw edge that nothing covers',
    files: replaced(wren, setFile, ', covered: the wing', ''),
    says: ['piece cover', 'raw edge', 'Add "covered:"'],
  },
  {
    what: 'a seam with a stranger',
    files: replaced(wren, setFile, '[floor, dash]', '[floor, bonnet]'),
    says: [`${setFile}:13:`, '"bonnet"', 'Pieces: floor, dash, mat, rest, cover'],
  },
  {
    what: 'an inset that does not fit',
    files: replaced(wren, setFile, 'inset: 2', 'inset: 90'),
    says: ['piece rest', 'an inset of 90 mm', 'smaller inset'],
  },
];

/** The entities of a piece with its outline drawn otherwise. */
function outlineAs(change: (outline: Entity & { kind: 'path' }) => Entity) {
  return (entities: readonly Entity[]): Entity[] =>
    entities.map((e) => (e.kind === 'path' && e.layer === 'OUTLINE' ? change(e) : e));
}

const bowTie = [420, 620, 620, 420].map((x, i) => ({ x, y: [700, 840, 700, 840][i]! }));
const pngSignature = new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]);
const drawing = String(wren[drawingFile]);

const drawingCases: readonly Case[] = [
  {
    what: 'a drawing that is not there',
    files: without(wren, drawingFile),
    says: [drawingFile, 'there is no drawing here'],
  },
  {
    what: 'a PNG for a drawing',
    files: { ...wren, [drawingFile]: pngSignature },
    says: [drawingFile, 'this is a PNG picture', 'save or export it as DXF'],
  },
  {
    what: 'a drawing cut short',
    files: { ...wren, [drawingFile]: drawing.slice(0, drawing.length / 2) },
    says: [`${drawingFile}:`, 'ends without EOF', 'Export the drawing again'],
  },
  {
    what: 'a header and a set at odds about the scale',
    files: replaced(wren, drawingFile, /  9\n\$EXTMIN/, '  9\n$INSUNITS\n 70\n1\n  9\n$EXTMIN'),
    // From the cover’s left edge at -700 to the rest’s right one at 620, in mm and as inches.
    says: [drawingFile, 'the set states mm', '33528', '1320'],
  },
  {
    what: 'a piece without an outline',
    files: redrawn('FLOOR', (entities) => entities.filter(({ layer }) => layer !== 'OUTLINE')),
    says: [drawingFile, 'piece floor', 'there is no OUTLINE', 'closed polyline'],
  },
  {
    what: 'an open outline',
    files: redrawn(
      'REST',
      outlineAs((e) => ({ ...e, path: { ...e.path, closed: false } })),
    ),
    // From the last corner to the first: 140 mm.
    says: [`${drawingFile}:`, 'piece rest', 'here and at 420, 840', 'a gap of 140 mm', 'Close'],
  },
  {
    what: 'an outline that crosses itself',
    files: redrawn(
      'REST',
      outlineAs((e) => ({ ...e, path: polyline(bowTie, true) })),
    ),
    says: [`${drawingFile}:`, 'piece rest', 'at 520.0, 770.0', 'crosses', 'Untangle it'],
  },
  {
    what: 'a layer of no meaning',
    files: redrawn('MAT', (entities) =>
      entities.map((e) => (e.layer === 'HOLE-RIGHT' ? { ...e, layer: 'BORE' } : e)),
    ),
    says: [`${drawingFile}:`, 'piece mat', 'layer "BORE"', 'shared/layers.yaml'],
  },
  {
    what: 'a layer that is said to be a role that is none',
    files: { ...wren, 'shared/layers.yaml': 'BORE: HOLES\n' },
    says: ['shared/layers.yaml:1:1', '"BORE"', 'write one of OUTLINE, CUTOUT, HOLE'],
  },
];

/** On its roll, whose usable width is 40 mm less, the floor is 1160 mm across. */
const narrow = replaced(wren, runFile, 'length: 9000', 'width: 1100');
const rollCases: readonly Case[] = [
  {
    what: 'a part wider than the roll',
    files: narrow,
    says: ['part floor.1.A1', '1160 mm across the roll', '1060 mm are usable', 'wider roll'],
  },
  {
    what: 'a roll too short',
    files: replaced(wren, runFile, 'length: 9000', 'length: 1500'),
    says: ['the roll has 1500 mm', 'mm are missing', 'Not on it: ', '.A', 'Take a longer roll'],
  },
];

// The SHA-256 of {} and of M2 with its line end, as `sha256sum` gives them.
const earlier: Files = {
  ...wren,
  'out/wren-week/run.json': '{}',
  'out/wren-week/loop.nc': 'M2\n',
  'out/wren-week/SHA256SUMS': `44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a  run.json
da2477a3c847cd3b0b5aa488874b00bd5e960e56eb059a5fb483fb70d2dc57e0  loop.nc
`,
};
const foreign: Files = { ...wren, 'out/wren-week/letter.pdf': 'Dear' };
const targetCases: readonly Case[] = [
  {
    what: 'a run folder that exists',
    files: earlier,
    says: ['out/wren-week: this run exists already', '--force', '--out'],
  },
  {
    what: 'a folder of something else, even with --force',
    files: foreign,
    args: [...cutRun, '--force'],
    says: ['out/wren-week', 'something that is not a run (letter.pdf).', '--out'],
  },
  {
    what: 'an earlier run with a stranger in it, even with --force',
    files: { ...earlier, ...foreign, 'out/wren-week/notes.txt': 'keep' },
    args: [...cutRun, '--force'],
    says: ['out/wren-week', 'the run did not write: letter.pdf, notes.txt', 'Move them away'],
  },
  {
    what: 'an earlier run of which a person has changed a file, even with --force',
    files: { ...earlier, 'out/wren-week/loop.nc': 'G0 X1\nM2\n' },
    args: [...cutRun, '--force'],
    says: ['out/wren-week', 'was changed since: loop.nc', 'Move it away'],
  },
  {
    what: 'a folder without the list of what the run wrote, even with --force',
    files: { ...earlier, 'out/wren-week/SHA256SUMS': '' },
    args: [...cutRun, '--force'],
    says: ['out/wren-week', 'not that of a run', '--out'],
  },
  {
    what: 'a file in the place of the run folder',
    files: { ...wren, 'out/wren-week': 'a file' },
    args: [...cutRun, '--force'],
    says: ['out/wren-week', 'is a file, not a folder'],
  },
  {
    what: 'a run folder under a file',
    args: [...cutRun, '--out', `${runFile}/deep/down`],
    says: [`${runFile} is a file, not a folder`, '--out'],
  },
];

/** With a folder that is made read-only. */
export const rightsCases: readonly (Case & { readonly files: Files; readonly locked: string })[] = [
  {
    what: 'no permission to write',
    files: { ...wren, 'out/README.md': 'Run folders.' },
    locked: 'out',
    says: ['out/wren-week', 'no permission to write', '--out'],
  },
  {
    what: 'no permission to write over an earlier run',
    files: earlier,
    args: [...cutRun, '--force'],
    locked: 'out/wren-week',
    says: ['out/wren-week', 'no permission to write'],
  },
];

const argumentCases: readonly Case[] = [
  {
    what: 'nothing behind an option',
    args: [...cutRun, '--out'],
    says: ['Nothing stands behind --out', 'pileway cut --help'],
  },
  { what: 'no run', args: ['cut'], says: ['Something is missing', 'pileway cut <run>'] },
  { what: 'no command', args: [], says: ['Name a command', 'pileway --help'] },
  {
    what: 'an unknown command',
    args: ['carve', runFile],
    says: ['Unknown command', 'carve', 'pileway --help'],
  },
  {
    what: 'an unknown option',
    args: [...cutRun, '--colour', 'red'],
    says: ['colour', 'pileway cut --help'],
  },
  { what: 'two runs at once', args: [...cutRun, setFile], says: [setFile, 'pileway cut --help'] },
  {
    what: 'an effort of 0 on the command line',
    args: [...cutRun, '--effort', '0'],
    says: ['--effort 0', 'at least 1 is allowed'],
  },
  {
    what: 'an effort that is no number',
    args: [...cutRun, '--effort', 'much'],
    says: ['--effort', 'number'],
  },
  {
    what: 'both an effort and seconds',
    args: [...cutRun, '--effort', '5', '--seconds', '1'],
    says: ['mutually exclusive'],
  },
  {
    what: 'both streams and seconds, in which each thread is one',
    args: [...cutRun, '--streams', '5', '--seconds', '1'],
    says: ['mutually exclusive'],
  },
  {
    what: 'more streams than there may be',
    args: [...cutRun, '--streams', '65'],
    says: ['--streams 65', 'at most 64'],
  },
  {
    what: 'streams that are no number',
    args: [...cutRun, '--streams', 'abc'],
    says: ['--streams takes a number'],
  },
  {
    what: 'seconds below 0',
    args: [...cutRun, '--seconds', '-1'],
    says: ['--seconds -1', 'at least 0 is allowed'],
  },
  {
    what: 'an earlier run that is not there',
    args: [...cutRun, '--from', 'out/nowhere'],
    says: ['out/nowhere', 'run.json'],
  },
  { what: 'an effort not given', args: [...cutRun, '--effort'], says: ['effort', '--help'] },
  {
    what: 'a seed on the command line that is no whole number',
    args: [...cutRun, '--seed', '1.5'],
    says: ['--seed 1.5', 'is no whole number'],
  },
  {
    what: 'units that are none',
    args: ['read', drawingFile, '--units', 'ft'],
    says: ['units', 'ft', 'mm', 'pileway read --help'],
  },
];

const otherCases: readonly Case[] = [
  { what: 'check: no such set', args: ['check', 'patterns/robin'], says: ['robin', 'no set file'] },
  {
    what: 'check: an outline that crosses itself, and nothing that follows from it',
    files: redrawn(
      'REST',
      outlineAs((e) => ({ ...e, path: polyline(bowTie, true) })),
    ),
    args: checkSet,
    says: ['piece rest\n', 'at 520.0, 770.0', 'crosses', '[self-crossing]', '1 error in 5 pieces.'],
    // The piece, the finding, the total.
    lines: 3,
    code: 1,
  },
  {
    what: 'check: an inset that does not fit',
    files: replaced(wren, setFile, 'inset: 2', 'inset: 90'),
    args: checkSet,
    says: ['piece rest\n', 'rest-right', 'an inset of 90 mm'],
    code: 1,
  },
  {
    what: 'check: a drawing without units',
    files: replaced(wren, setFile, 'units: mm\n', ''),
    args: checkSet,
    says: ['the set\n', 'ERROR', drawingFile, 'in which units', '1 error in 5 pieces.'],
    code: 1,
  },
  {
    what: 'check: a picture in the place of a file',
    files: { ...wren, 'found.svg': 'mine' },
    args: [...checkSet, '--svg', 'found.svg'],
    says: ['found.svg: this file exists already', '--force'],
  },
  {
    what: 'check: a picture in the place of the set file, even with --force',
    args: [...checkSet, '--svg', setFile, '--force'],
    says: [`${setFile}: this name does not end in .svg`],
  },
  { what: 'read: no such drawing', args: ['read', 'a.dxf'], says: ['a.dxf: there is no drawing'] },
  { what: 'read: a folder', args: ['read', 'patterns'], says: ['patterns: this is a folder'] },
  {
    what: 'read: an empty file',
    files: { ...wren, [drawingFile]: '' },
    args: ['read', drawingFile],
    says: [drawingFile, 'this file is empty'],
  },
  {
    what: 'read: a set file',
    args: ['read', setFile],
    says: [`${setFile}:1: "title: Wren van, cab"`, 'no DXF'],
  },
  {
    what: 'read: a mesh',
    files: { ...wren, [drawingFile]: mesh },
    args: ['read', drawingFile],
    says: [`${drawingFile}:5: POLYLINE that is a mesh (polyface)`, 'outline as a flat polyline'],
    lines: 1,
  },
  {
    what: 'read: a gap that no one would bridge',
    args: ['read', drawingFile, '--gap', '9'],
    says: ['--gap 9 is too large', 'at most 5 is allowed'],
  },
  {
    what: 'read: a refit of nothing',
    args: ['read', drawingFile, '--refit', '0'],
    says: ['--refit 0 is too small', 'at least 0.001 is allowed'],
  },
  {
    what: 'read: layers that are not there',
    args: ['read', drawingFile, '--shared', 'patterns'],
    says: ['patterns: there is no layers.yaml here'],
  },
  {
    what: 'read: a picture that is no SVG',
    args: ['read', drawingFile, '--svg', 'seen.png'],
    says: ['seen.png: this name does not end in .svg'],
  },
  {
    what: 'import: a set that exists',
    args: ['import', drawingFile, '--set', 'wren', '--units', 'mm'],
    says: ['patterns/wren: this set exists already'],
  },
  {
    what: 'import: no units',
    args: ['import', drawingFile, '--set', 'robin'],
    says: [drawingFile, 'in which units', '--units mm'],
  },
  {
    what: 'import: a name that is none',
    args: ['import', drawingFile, '--set', 'Robin', '--units', 'mm'],
    says: ['--set Robin is no name for a set'],
  },
  {
    what: 'recut: no such run',
    args: ['recut', 'out/a', '--part', 'floor.1.A1'],
    says: ['out/a/run.json', 'no run record'],
  },
  {
    what: 'recut: no part named',
    args: ['recut', 'out/a'],
    says: ['part'],
  },
  {
    what: 'recut: into a folder of something else',
    args: ['recut', 'out/a', '--part', 'floor.1.A1', '--out', 'patterns'],
    says: ['patterns', 'not a run', '--out'],
  },
  {
    what: 'compare: nothing to compare with',
    args: ['compare', 'patterns/wren', 'out/none'],
    says: ['out/none', 'no file to compare'],
  },
  {
    what: 'compare: a set and a drawing',
    args: ['compare', 'patterns/wren', drawingFile],
    says: ['patterns/wren is a set', 'is a drawing', 'two run folders'],
  },
  {
    what: 'compare: a folder of neither',
    args: ['compare', 'patterns', 'patterns/wren'],
    says: ['patterns', 'neither a run (run.json) nor a set (set.yaml)'],
  },
  {
    what: 'compare: a tolerance below nothing',
    args: ['compare', 'patterns/wren', 'patterns/wren', '--tolerance=-1'],
    says: ['--tolerance', '-1'],
  },
  {
    what: 'compare: a picture over something',
    args: ['compare', drawingFile, drawingFile, '--svg', setFile],
    says: [setFile, 'does not end in .svg'],
  },
  {
    what: 'prove: no such run',
    args: ['prove', 'out/a'],
    says: ['out/a/run.json', 'no run record'],
  },
  {
    what: 'prove: a folder of something else',
    args: ['prove', 'patterns'],
    says: ['no run record'],
  },
  {
    what: 'prove: a run.json of something else',
    files: { ...wren, 'out/a/run.json': '{"format": 1}' },
    args: ['prove', 'out/a'],
    says: ['out/a/run.json:1:', '"format"'],
  },
];

/** By what is wrong. */
export const cases: readonly (readonly [what: string, cases: readonly Case[]])[] = [
  ['the run', runCases],
  ['the cutter', profileCases],
  ['the set', setCases],
  ['the drawing', drawingCases],
  ['the roll', rollCases],
  ['the folder to write', targetCases],
  ['the arguments', argumentCases],
  ['the other commands', otherCases],
];
