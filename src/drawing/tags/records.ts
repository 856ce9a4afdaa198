import { refuse } from '../../base/findings.ts';
import type { Tag } from './tags.ts';

/**
 * A record: a tag with group code 0 and the tags up to the next one. It is an entity, an entry of a
 * table, or the head of a block or section.
 */
export interface DxfRecord {
  readonly type: string;
  /** The line of the file where it begins. */
  readonly line: number;
  readonly tags: readonly Tag[];
  /** The VERTEX records of a POLYLINE or the ATTRIB records of an INSERT; otherwise empty. */
  readonly parts: readonly DxfRecord[];
}

/**
 * Divides the tags into records: each begins with a group code 0. What an embedded object (group 101)
 * adds to a record is left out.
 */
export function recordsOf(tags: readonly Tag[]): DxfRecord[] {
  const records: { type: string; line: number; tags: Tag[]; parts: DxfRecord[] }[] = [];
  let embedded = false;
  for (const tag of tags) {
    if (tag.code === 0) {
      records.push({ type: tag.value, line: tag.line, tags: [], parts: [] });
      embedded = false;
    } else if (records.length === 0) {
      refuse(
        'structure',
        `a DXF begins with a SECTION; here is group ${tag.code}.`,
        'The file is damaged or no DXF; export the drawing again.',
        { line: tag.line },
      );
    } else {
      embedded ||= tag.code === 101;
      if (!embedded) records.at(-1)!.tags.push(tag);
    }
  }
  return records;
}

export function hasTag(record: DxfRecord, code: number): boolean {
  return record.tags.some((tag) => tag.code === code);
}

/**
 * The first value of a group code, without blanks around it. If there is none: `otherwise`, or a Refusal
 * if that is not given.
 */
export function textIn(record: DxfRecord, code: number, otherwise?: string): string {
  const tag = record.tags.find((candidate) => candidate.code === code);
  return tag?.value.trim() ?? otherwise ?? missing(record, code);
}

/** The first number of a group code. If there is none: `otherwise`, or a Refusal if that is not given. */
export function numberIn(record: DxfRecord, code: number, otherwise?: number): number {
  const tag = record.tags.find((candidate) => candidate.code === code);
  return tag === undefined ? (otherwise ?? missing(record, code)) : Number(tag.value);
}

function missing(record: DxfRecord, code: number): never {
  return refuse(
    'structure',
    `the ${record.type} has no group ${code}.`,
    'The file is damaged; export the drawing again.',
    { line: record.line },
  );
}
