/** The Wren where orders choose: carpets in colours, two finishes, part of a set, and words for people. */
import type { Files } from './wren.ts';
import { replaced, runFile, setFile, wren } from './wren.ts';

const orders = `  - { order: A1, set: wren, hand: RHD, quantity: 2, carpet: { colour: claret }, edge: { colour: black }, thread: dark red, customer: Hallam & Daughter, due: 2026-12-04, benchNote: "Double stitch the dash.\\nNo chalk.", customerNote: "Let it lie in the warm for a day." }
  - { order: A2, set: wren, hand: LHD, heelPads: both, carpet: { material: wool, colour: moss }, edge: { finish: overlock, colour: sand }, customer: K-17, due: 2026-12-02 }
  - { order: A3, set: wren, hand: RHD, carpet: { colour: claret }, edge: { colour: black }, alone: [floor, mat], without: [mat-pad-right] }
  - { order: A4, set: wren, hand: LHD, carpet: { colour: fawn }, alone: [rest] }
`;

/** What each order's carpet is of, as its line above says. */
export const carpetOf: Readonly<Record<string, readonly [material: string, colour: string]>> = {
  A1: ['loop', 'claret'],
  A2: ['wool', 'moss'],
  A3: ['loop', 'claret'],
  A4: ['loop', 'fawn'],
};

export const benchText = `price: 32.00 EUR
minutes: { bind: 4, overlock: 1.5, sew: 6, pad: 10, board: 8 }
`;

const overlockText = `title: overlocked edge
kind: overlock
colours: [sand, claret]
price: 0.40 EUR
width: 6
insideRadius: 8
joining: 40
tightRadius: 0
tightExtra: 0
`;

function withOrders(): Files {
  let files = replaced(wren, runFile, /orders:\n(?: {2}- .*\n)+/, `orders:\n${orders}`);
  files = replaced(
    files,
    runFile,
    / {2}loop: .*\n/,
    `  loop:\n    - { colour: claret, length: 9000, dyeLot: "7" }\n    - { colour: fawn, length: 2000 }\n`,
  );
  files = replaced(
    files,
    setFile,
    'pieces:\n',
    'uses: { carpet: loop, pad: rubber, board: board }\npieces:\n',
  );
  files = replaced(files, setFile, /material: loop/g, 'material: carpet');
  files = replaced(files, setFile, 'pad: rubber }', 'pad: pad }');
  return files;
}

function withShop(files: Files): Files {
  const loop = String(files['shared/materials/loop.yaml']);
  const colours =
    "colours: { claret: { sample: '#6b1f2a' }, fawn: { sample: '#b79b73', price: 27.10 EUR } }\n";
  const wool = loop.replace('title: carpet for tests', 'title: wool for tests');
  const priced = (name: string, price: string): string =>
    `${String(files[`shared/materials/${name}.yaml`])}price: ${price}\n`;
  return {
    ...files,
    'shared/materials/loop.yaml': `${loop}price: 24.50 EUR\n${colours}`,
    'shared/materials/wool.yaml': `${wool}price: 61.00 EUR\ncolours: { moss: { sample: '#55603c' } }\n`,
    'shared/materials/rubber.yaml': priced('rubber', '19.99 EUR'),
    'shared/materials/board.yaml': priced('board', '7.35 EUR'),
    'shared/bindings/tape.yaml': `${String(files['shared/bindings/tape.yaml'])}price: 0.95 EUR\n`,
    'shared/bindings/overlock.yaml': overlockText,
    'shared/bench.yaml': benchText,
  };
}

export const colouredWren: Files = withShop(withOrders());
