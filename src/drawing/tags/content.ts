import { refuse } from '../../base/findings.ts';
import type { DxfRecord } from './records.ts';
import { hasTag, numberIn, recordsOf, textIn } from './records.ts';
import type { Tag } from './tags.ts';
import { decodeUnicode } from './text-codes.ts';

export interface DxfBlock {
  readonly name: string;
  /** The BLOCK record itself, with base point and flags. */
  readonly head: DxfRecord;
  readonly entities: readonly DxfRecord[];
}

/** The parts of a DXF that matter for a drawing. */
export interface DxfContent {
  /** The first value of each header variable. */
  readonly header: ReadonlyMap<string, Tag>;
  readonly layers: readonly DxfRecord[];
  readonly blocks: readonly DxfBlock[];
  readonly entities: readonly DxfRecord[];
}

/**
 * Sorts the tags of a file into its sections. Throws a Refusal if sections or blocks do not begin and end
 * as they must.
 */
export function contentOf(tags: readonly Tag[]): DxfContent {
  const records = recordsOf(tags);
  const sections = sectionsOf(records);
  const entities = sections.get('ENTITIES');
  if (entities === undefined) {
    refuse(
      'structure',
      'the file has no ENTITIES section (group 2): nothing is drawn in it.',
      'Export the drawing again.',
      { line: records.at(-1)?.line ?? 1 },
    );
  }
  return {
    header: headerOf(sections.get('HEADER')?.[0]),
    layers: (sections.get('TABLES') ?? []).filter(({ type }) => type === 'LAYER'),
    blocks: blocksOf(sections.get('BLOCKS')?.slice(1) ?? []),
    entities: withParts(entities.slice(1)),
  };
}

/** The records of each section, by the name of the section. The first record is SECTION itself. */
function sectionsOf(records: readonly DxfRecord[]): Map<string, DxfRecord[]> {
  const sections = new Map<string, DxfRecord[]>();
  let open: DxfRecord[] | undefined;
  for (const record of records) {
    if (record.type === 'SECTION') {
      if (open !== undefined) misplaced(record, 'the section before it has no ENDSEC');
      open = [record];
      const name = textIn(record, 2);
      if (sections.has(name)) misplaced(record, `there is a section ${name} already`);
      sections.set(name, open);
    } else if (open === undefined) {
      misplaced(record, 'it stands outside every section');
    } else if (record.type === 'ENDSEC') {
      open = undefined;
    } else {
      open.push(record);
    }
  }
  if (open !== undefined) misplaced(open[0]!, 'it has no ENDSEC');
  return sections;
}

function headerOf(section: DxfRecord | undefined): Map<string, Tag> {
  const header = new Map<string, Tag>();
  let name: string | undefined;
  for (const tag of section?.tags ?? []) {
    if (tag.code === 9) {
      name = tag.value.trim();
    } else if (name !== undefined && !header.has(name)) {
      header.set(name, { ...tag, value: tag.value.trim() });
    }
  }
  return header;
}

function blocksOf(records: readonly DxfRecord[]): DxfBlock[] {
  const blocks: DxfBlock[] = [];
  let open: { head: DxfRecord; inside: DxfRecord[] } | undefined;
  for (const record of records) {
    if (record.type === 'BLOCK') {
      if (open !== undefined) misplaced(record, 'the block before it has no ENDBLK');
      open = { head: record, inside: [] };
    } else if (open === undefined) {
      misplaced(record, 'it stands outside every block');
    } else if (record.type === 'ENDBLK') {
      const { head, inside } = open;
      blocks.push({ name: nameIn(head, 2), head, entities: withParts(inside) });
      open = undefined;
    } else {
      open.inside.push(record);
    }
  }
  if (open !== undefined) misplaced(open.head, 'it has no ENDBLK');
  return blocks;
}

/** Puts vertices and attributes into the `parts` of the entity that they belong to. */
function withParts(records: readonly DxfRecord[]): DxfRecord[] {
  const entities: DxfRecord[] = [];
  let i = 0;
  while (i < records.length) {
    const record = records[i++]!;
    if (partsOnly.has(record.type)) misplaced(record, 'it belongs to no entity');
    const parts = partsFrom(records, i, partTypes.get(record.type));
    i += parts.length;
    if (endsWithSeqend(record, parts) && records[i++]?.type !== 'SEQEND') {
      misplaced(record, 'what belongs to it has no SEQEND');
    }
    entities.push({ ...record, parts });
  }
  return entities;
}

function partsFrom(records: readonly DxfRecord[], start: number, type?: string): DxfRecord[] {
  if (type === undefined) return [];
  let end = start;
  while (records[end]?.type === type) end++;
  return records.slice(start, end);
}

const partTypes: ReadonlyMap<string, string> = new Map([
  ['POLYLINE', 'VERTEX'],
  ['INSERT', 'ATTRIB'],
]);

const partsOnly: ReadonlySet<string> = new Set(['VERTEX', 'ATTRIB', 'SEQEND']);

function endsWithSeqend(record: DxfRecord, parts: readonly DxfRecord[]): boolean {
  if (record.type === 'INSERT') return parts.length > 0 || numberIn(record, 66, 0) === 1;
  return record.type === 'POLYLINE';
}

/** Whether the block only points to another file (flag 4). */
export function isExternal({ head }: DxfBlock): boolean {
  return (numberIn(head, 70, 0) & 4) !== 0;
}

/** The name of a layer or a block. */
export function nameIn(record: DxfRecord, code: number): string {
  return decodeUnicode(textIn(record, code, code === 8 ? '0' : undefined));
}

function misplaced(record: DxfRecord, why: string): never {
  const name = record.type === 'SECTION' && hasTag(record, 2) ? ` ${textIn(record, 2)}` : '';
  return refuse(
    'structure',
    `the ${record.type}${name} (group 0) is out of place: ${why}.`,
    'The file is damaged; export the drawing again.',
    { line: record.line },
  );
}
