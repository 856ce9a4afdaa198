/** The Wren for a shop that keeps two carpets and two rubbers, each in several colours. */
import type { Files } from './wren.ts';
import { replaced, runFile, setFile, wren } from './wren.ts';

function withColours(text: string, ...colours: readonly string[]): string {
  const lines = colours.map((name, i) => `  ${name}: { sample: '#${i}0${i}0${i}0' }\n`);
  return `${text}colours:\n${lines.join('')}`;
}

const loop = String(wren['shared/materials/loop.yaml']);

const ofUses = replaced(
  replaced(wren, setFile, /material: loop/g, 'material: carpet'),
  setFile,
  'pad: rubber',
  'pad: pad',
);

/** What can be chosen: `loop` in sand and claret, `plush` in claret and navy, `rubber` in two, `felt` in one. */
const shop: Files = {
  ...replaced(
    ofUses,
    setFile,
    'pieces:',
    'uses: { carpet: loop, pad: rubber }\ngroups: { front: [dash, mat-right] }\npieces:',
  ),
  'shared/materials/loop.yaml': withColours(loop, 'sand', 'claret'),
  'shared/materials/plush.yaml': withColours(
    loop.replace('carpet for tests', 'plush for tests').replace('seam: 10', 'seam: 14'),
    'claret',
    'navy',
  ),
  'shared/materials/rubber.yaml': withColours(
    String(wren['shared/materials/rubber.yaml']),
    'black',
    'grey',
  ),
  'shared/bindings/leather.yaml': `${String(wren['shared/bindings/tape.yaml'])}colours: [red]\n`,
};

/** A run of the shop with these orders and rolls, written as in a run file. */
export function mixedRun(orders: readonly string[], rolls = '{}'): Files {
  const list = orders.map((order) => `  - ${order}\n`).join('');
  const run = `title: mixed\ncutter: long-bay\neffort: 2\norders:\n${list}rolls: ${rolls}\n`;
  return { ...shop, [runFile]: run };
}
