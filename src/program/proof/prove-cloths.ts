import type { Finding } from '../../base/findings.ts';
import { chosenFor } from '../../handing/order-choices.ts';
import type { PartKind } from '../../handing/part.ts';
import type { Use } from '../../pattern/words.ts';
import { uses } from '../../pattern/words.ts';
import type { LayRecord, PartRecord, RunRecord } from '../record/run-record.ts';
import { recordedName } from '../record/run-record.ts';
import { fault } from './faults.ts';

/**
 * Faults of colours: a lay has one that its material is kept in, a part has that of the lay it lies on,
 * and it is one that its order names for what may be cut from that material, or the only one there is.
 */
export function clothFaults(run: RunRecord, file: string): Finding[] {
  return [
    ...run.lays.flatMap((lay) => layColourFaults(lay, run, file)),
    ...run.parts.flatMap((part) => orderedColourFaults(part, run, file)),
    ...(run.recutOf === null ? chosenFaults(run, file) : []),
  ];
}

type MaterialRecord = RunRecord['materials'][number];

/** The colours that a material is kept in. null: it is kept in none. */
function coloursOf(material: MaterialRecord | undefined): string[] | null {
  return material?.colours === undefined ? null : Object.keys(material.colours);
}

function layColourFaults(lay: LayRecord, { parts, materials }: RunRecord, file: string): Finding[] {
  const name = recordedName(lay);
  const kept = coloursOf(materials.find((one) => one.name === lay.material));
  const found: Finding[] = [];
  const isKept = kept === null ? lay.colour === undefined : kept.includes(lay.colour ?? '');
  if (!isKept) {
    const said = lay.colour ?? 'no colour';
    const message = `the lay ${name} is of ${said}; ${lay.material} is kept in ${kept === null ? 'no colours' : kept.join(', ')}.`;
    found.push(fault('colour', message, { file }));
  }
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  for (const { label } of lay.placements) {
    const part = byLabel.get(label);
    if (part === undefined || part.colour === lay.colour) continue;
    const message = `it is of ${part.colour ?? 'no colour'}, and lies on a roll of ${lay.colour ?? 'no colour'}.`;
    found.push(fault('colour', message, { file, part: label }));
  }
  return found;
}

const ownUse: Readonly<Record<PartKind, Use>> = {
  piece: 'carpet',
  pad: 'pad',
  board: 'board',
  underlay: 'underlay',
};

/**
 * The record does not have the set file, which says what each use is cut from where an order does not. So
 * a colour is right if the order names it for any use that may be this one.
 */
function orderedColourFaults(
  part: PartRecord,
  { orders, materials }: RunRecord,
  file: string,
): Finding[] {
  const { material, colour, label } = part;
  const order = orders.find((one) => one.order === part.order);
  const known = materials.find((one) => one.name === material);
  const kept = coloursOf(known);
  if (order === undefined || known === undefined) return [];
  if (kept === null) {
    if (colour === undefined) return [];
    const message = `it is of ${colour}, and ${material} is kept in no colours.`;
    return [fault('colour', message, { file, part: label })];
  }
  const own = chosenFor(order, ownUse[part.kind]);
  const isOwn = own.material === material;
  const asked = (isOwn ? [own] : uses.map((use) => chosenFor(order, use)))
    .filter((chosen) => chosen.material === undefined || chosen.material === material)
    .flatMap((chosen) => chosen.colour ?? []);
  const only = kept.length === 1 ? kept : [];
  if (colour !== undefined && [...asked, ...only].includes(colour)) return [];
  const wanted = [...new Set(asked)].join(' or ') || 'no colour of it';
  const message = `it is of ${colour ?? 'no colour'}; order ${order.order} names ${wanted} for ${material}.`;
  return [fault('colour', message, { file, part: label })];
}

/** A material that an order chooses was read. A recut records those alone that it cuts from. */
function chosenFaults({ orders, materials }: RunRecord, file: string): Finding[] {
  return orders.flatMap((order) =>
    uses.flatMap((use): Finding[] => {
      const { material } = chosenFor(order, use);
      if (material === undefined || materials.some(({ name }) => name === material)) return [];
      const message = `order ${order.order} chooses ${material} for its ${use}, and run.json says nothing of it.`;
      return [fault('material', message, { file })];
    }),
  );
}
