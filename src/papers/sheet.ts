import type { Finding } from '../findings.ts';
import { wordFinding } from '../findings.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import { leftToBench } from '../knife/cuttable.ts';
import type { Point } from '../geometry/point.ts';
import type { Cutter } from '../knife/cutter.ts';
import { biteName } from '../lay/bites.ts';
import type { Roll } from '../lay/lay.ts';
import { layName } from '../lay/lay.ts';
import { layPicture, rowsOf } from './lay-picture.ts';
import type { MaterialFacts, RunFacts } from './run-facts.ts';
import { sheetStyle } from './sheet-style.ts';
import { escapeXml } from './svg.ts';
import { counted, duration, metresUp, percent } from './words.ts';

/**
 * The run sheet for the operator, in the order of work, as one HTML file that needs nothing else:
 * what is cut, what it takes, findings and cautions; then for each material what to load, the lay
 * bite by bite, and the order of cutting.
 */
export function runSheet(facts: RunFacts): string {
  const title = `Run sheet: ${facts.title}`;
  return [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeXml(title)}</title><style>${sheetStyle}</style></head><body>`,
    `<header><h1>${escapeXml(facts.title)}</h1><p>Run ${escapeXml(facts.run)} on ${escapeXml(facts.cutter.title)}. Fingerprint <code>${facts.fingerprint}</code>.</p></header>`,
    ordersSection(facts.orders),
    loadSection(facts),
    findingsSection(facts.findings),
    cautionsSection,
    ...facts.materials.map((one) => materialSection(one, facts)),
    '</body></html>\n',
  ].join('\n');
}

function table(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  className = '',
): string {
  const head = heads.map((text) => `<th scope="col">${escapeXml(text)}</th>`).join('');
  const body = rows.map(
    (row) => `<tr>${row.map((text) => `<td>${escapeXml(text)}</td>`).join('')}</tr>`,
  );
  return `<table class="${className}"><thead><tr>${head}</tr></thead><tbody>${body.join('\n')}</tbody></table>`;
}

function ordersSection(orders: readonly Order[]): string {
  const rows = orders.map((order) => [
    order.order,
    order.set,
    order.hand,
    String(order.quantity),
    { driver: 'driver’s side', both: 'both sides', none: 'none' }[order.heelPads],
    order.boards ? 'yes' : 'no',
    order.underlay ? 'yes' : 'no',
    order.binding ?? 'not said',
  ]);
  const heads = ['Order', 'Set', 'Hand', 'Sets', 'Heel pads', 'Boards', 'Underlay', 'Binding'];
  return `<section><h2>What is cut</h2>${table(heads, rows)}</section>`;
}

function loadSection({ materials }: RunFacts): string {
  const rows = materials.map((facts) => {
    const { lay, parts, knife } = facts;
    return [
      headingOf(facts),
      metresUp(lay.length),
      Number.isFinite(lay.roll.length) ? metresUp(lay.roll.length) : 'not said',
      percent(lay.density),
      String(parts.length),
      String(knife.bites),
      duration(knife.minutes),
    ];
  });
  const heads = [
    'Material',
    'Length needed',
    'On the roll',
    'Density',
    'Parts',
    'Bites',
    'Time (estimate)',
  ];
  return `<section><h2>What it takes</h2>${table(heads, rows, 'figures')}</section>`;
}

const cautionsSection = `<section class="cautions"><h2>Before you start</h2><ul>
<li>Run the dry program first, with the knife up, and watch that it stays on the roll.</li>
<li>A cutting file is no safety function, and a programmed stop is no emergency stop.</li>
<li>Keep hands, hair and loose clothing away from gantry and feed rollers; guards closed.</li>
<li>Stop and isolate the machine before you touch the blade. Gloves on; old blades into a sharps box.</li>
<li>Knife up before every feed. Clear lint and dust: they burn. Two people lift a heavy roll.</li>
<li>The machine maker’s manual, local rules and a competent person come before this sheet.</li>
</ul></section>`;

function materialSection(facts: MaterialFacts, run: RunFacts): string {
  const { lay, parts } = facts;
  const rows = rowsOf(lay, parts, facts.bites);
  const pictures = rows.map((row, i) => {
    const order = facts.bites[i] === undefined ? '' : biteNotes(facts, i) + cuttingOrder(facts, i);
    return `<section class="bite" aria-label="Bite ${i + 1}"><figure>${layPicture(lay, parts, [row])}</figure>${order}</section>`;
  });
  return [
    `<section class="material"><h2>${escapeXml(headingOf(facts))}</h2>`,
    faceNote(run.cutter),
    loadFacts(facts),
    ...pictures,
    benchSection(parts, run),
    '</section>',
  ].join('\n');
}

function headingOf({ material, lay: { roll } }: MaterialFacts): string {
  return roll.name === undefined ? material.title : `${material.title}, roll ${roll.name}`;
}

function loadFacts({ lay, parts, dyeLot }: MaterialFacts): string {
  const { roll, rules } = lay;
  const pile = {
    'one-way': 'from the start of the roll towards its end',
    'two-way': 'along the roll, either way',
    any: 'none',
  }[rules.turns];
  const known: [string, string][] = [
    ['Files', `${layName(lay)}.dxf, ${layName(lay)}.nc; first ${layName(lay)}.dry.nc`],
    [
      'Roll',
      `${roll.width} mm wide, ${roll.selvedge} mm selvedge at each edge, first ${roll.startMargin} mm unused`,
    ],
    ['Dye lot', dyeLot ?? 'not said: note it here before you cut'],
    ['Pile leans', `${pile}${exceptions(parts)}`],
    ['Gap', `${rules.gap} mm between parts`],
    ...defectFacts(roll),
    [
      'Needed',
      `${metresUp(lay.length)}${Number.isFinite(roll.length) ? ` of ${metresUp(roll.length)}` : ''}`,
    ],
  ];
  const rows = known.map(
    ([name, value]) => `<div><dt>${name}</dt><dd>${escapeXml(value)}</dd></div>`,
  );
  return `<dl>${rows.join('')}</dl>`;
}

/** Parts that their set lets lie otherwise than the material says. */
function exceptions(parts: readonly Part[]): string {
  const own = parts.filter(({ turns, tilt = 0 }) => turns !== undefined || tilt > 0);
  if (own.length === 0) return ', for every part';
  return `; as the set allows, otherwise for ${[...new Set(own.map(({ name }) => name))].join(', ')}`;
}

function defectFacts({ defects = [], outline }: Roll): [string, string][] {
  const facts: [string, string][] = [];
  if (outline !== undefined)
    facts.push(['Remnant', 'no oblong: held to the outline in the picture']);
  if (defects.length > 0) {
    const places = defects.map((defect) => {
      const [from, to] = [Math.min, Math.max].map((pick) => pick(...defect.map(({ x }) => x)));
      return `${metresUp(from!)} to ${metresUp(to!)}`;
    });
    facts.push(['Defects avoided', `${places.join(', ')} from the start of the roll`]);
  }
  return facts;
}

/** Which way up, to be read from where the roll is loaded. */
function faceNote({ face }: Cutter): string {
  return face === 'up'
    ? '<p class="face"><strong>FACE UP</strong> Load the roll with its pile up.</p>'
    : '<p class="face"><strong>FACE DOWN</strong> Load the roll with its pile on the bed and its back up. Pictures and files show it so: mirrored.</p>';
}

/** How a bite is fed to and begun again; nothing where there is one bite. */
function biteNotes({ bites, lay }: MaterialFacts, index: number): string {
  if (bites.length < 2) return '';
  const { start, check, mark } = bites[index]!;
  const place = ({ x, y }: Point, from: number): string =>
    `X ${(x - from).toFixed(0)}, Y ${y.toFixed(0)}`;
  const before = bites[index - 1];
  const notes = [
    before === undefined ? '' : `Feed ${mmUp(start - before.start)} before this bite.`,
    check === undefined
      ? ''
      : `After the feed the cross of the bite before lies at ${place(check, start)} on the bed; the program stops over it.`,
    mark === undefined ? '' : `A cross in the waste at ${place(mark, start)} marks the next feed.`,
    `To begin here again: the roll ${start === 0 ? 'as it was loaded' : `fed ${mmUp(start)} from its start`}, then ${layName(lay)}.${biteName(index + 1, bites.length)}.nc.`,
  ];
  return `<p class="order">${escapeXml(notes.filter((note) => note !== '').join(' '))}</p>`;
}

function mmUp(length: number): string {
  return `${length.toFixed(0)} mm`;
}

/** The parts of a bite in the order in which they come free, those that only a later bite frees in brackets. */
function cuttingOrder({ bites }: MaterialFacts, index: number): string {
  const outlines = bites[index]!.cuts.filter(({ kind }) => kind === 'outline');
  const labels = [...new Set(outlines.map(({ label }) => label))];
  const isLeft = (label: string): boolean =>
    bites.slice(index + 1).some(({ cuts }) => cuts.some((cut) => cut.label === label));
  const items = labels.map(
    (label) => `<li>${escapeXml(isLeft(label) ? `(${label}: to be cut on)` : label)}</li>`,
  );
  const free = labels.filter((label) => !isLeft(label)).length;
  return `<p class="order">Cut free in this order (${counted(free, 'part')}):</p><ol>${items.join('')}</ol>`;
}

function benchSection(parts: readonly Part[], { cutter }: RunFacts): string {
  const left = parts.flatMap((part) =>
    leftToBench(part, cutter).map(({ role, width, height }) => [
      part.label,
      role === 'HOLE' ? 'hole' : 'cutout',
      `${width.toFixed(1)} x ${height.toFixed(1)} mm`,
    ]),
  );
  if (left.length === 0) return '';
  return `<h3>Left to the bench</h3><p>Marked, not cut: too tight for this knife.</p>${table(['Part', 'What', 'Size'], left)}`;
}

function findingsSection(findings: readonly Finding[]): string {
  const items = findings.map((finding) => `<li>${escapeXml(wordFinding(finding))}</li>`);
  const body = items.length === 0 ? '<p>None.</p>' : `<ul>${items.join('\n')}</ul>`;
  return `<section><h2>Findings</h2>${body}</section>`;
}
