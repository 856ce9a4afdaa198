import { refuse } from '../../base/findings.ts';
import type { Tag } from './tags.ts';

/** An entity, a table entry or a block's head as the file has it: a 0 tag and what follows it. */
export interface DxfRecord {
  readonly type: string;
  /** Where it begins in the file. */
  readonly line: number;
  readonly tags: readonly Tag[];
  /** The vertices of a POLYLINE, the ATTRIBs of an INSERT. */
  readonly parts: readonly DxfRecord[];
}

/** Cuts the tags at every 0. What an embedded object (101) adds to a record is left out. */
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

/** The first value of a group code, without blanks around it; a Refusal where there is none. */
export function textIn(record: DxfRecord, code: number, otherwise?: string): string {
  const tag = record.tags.find((candidate) => candidate.code === code);
  return tag?.value.trim() ?? otherwise ?? missing(record, code);
}

/** The first number of a group code; a Refusal where there is none. */
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
