import type { Finding } from '../../base/findings.ts';
import type { Entity } from '../../drawing/drawing.ts';
import { boxOfEntities } from '../../drawing/extents.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { skeletonFor } from './dxf-skeleton.ts';
import { fault } from './faults.ts';

interface DxfGroup {
  readonly code: number;
  readonly value: string;
}

/** A record of a DXF: its type, which group 0 gives, and its other groups. */
interface DxfRecord {
  readonly type: string;
  readonly line: number;
  readonly groups: readonly DxfGroup[];
}

/**
 * Faults of the form of a cutter's drawing, which strict readers refuse or take for something else: the
 * version, the units, sections and tables in their order, the layers, the groups of every entity, and,
 * where the version has them, handles and owners. `entities`: what was read of it.
 */
export function proveDxfForm(
  text: string,
  entities: readonly Entity[],
  cutter: Cutter,
  file: string,
): Finding[] {
  const records = recordsOf(text);
  if (typeof records === 'number') {
    const message = 'the drawing is not made of a group code and a value in turn, up to EOF.';
    return [fault('dxf-form', message, { file, line: records })];
  }
  const skeleton = skeletonFor(cutter);
  const begin = skeleton.before.length;
  const end = records.length - skeleton.after.length;
  const findings = [
    ...recordFaults(records.slice(0, begin), skeleton.before, file),
    ...recordFaults(records.slice(Math.max(begin, end)), skeleton.after, file),
  ];
  let polyline: DxfRecord | undefined;
  for (const record of records.slice(begin, end)) {
    if (record.type === 'POLYLINE') polyline = record;
    const form = skeleton.entities[record.type];
    const words = record.groups.map((group) => worded(group, loose)).join(' ');
    if (form?.test(words) === true && isWhole(record, polyline)) continue;
    const message = `a ${record.type} does not have the groups that it must have.`;
    findings.push(fault('dxf-form', message, { file, line: record.line }));
  }
  if (findings.length > 0) return findings;
  return [
    ...cornerFaults(records[0]!, entities, file),
    ...(cutter.dxf === 'r2007' ? handleFaults(records, begin, end, file) : []),
  ];
}

/** The records of a DXF; or, if it is none, the line where that shows. */
function recordsOf(text: string): DxfRecord[] | number {
  const lines = text.replaceAll('\r\n', '\n').split('\n');
  if (lines.pop() !== '' || lines.length % 2 === 1) return lines.length;
  const records: { type: string; line: number; groups: DxfGroup[] }[] = [];
  for (let i = 0; i < lines.length; i += 2) {
    const code = /^ *(\d{1,4}) *$/.exec(lines[i]!)?.[1];
    if (code === undefined) return i + 1;
    const value = lines[i + 1]!.trim();
    if (code === '0') records.push({ type: value, line: i + 1, groups: [] });
    else if (records.length === 0) return i + 1;
    else records.at(-1)!.groups.push({ code: Number(code), value });
  }
  return records;
}

/** Groups that hold handles, and those whose value is not told by the form: their value is left out. */
const handles: ReadonlySet<number> = new Set([5, 330, 340, 350, 390]);
/** Groups of entities whose values are looked at elsewhere: layers, places, bulges, texts. */
const loose: readonly number[] = [1, 8, 10, 11, 20, 21, 40, 42, 90];

function worded({ code, value }: DxfGroup, open: readonly number[]): string {
  return handles.has(code) || open.includes(code) ? `${code}` : `${code}=${value}`;
}

function recordFaults(
  records: readonly DxfRecord[],
  forms: readonly string[],
  file: string,
): Finding[] {
  const wrong = forms.findIndex((form, i) => {
    const record = records[i];
    if (record === undefined) return true;
    // The corners in the header are looked at by themselves.
    const open = record.groups.some(({ value }) => value === '$EXTMIN') ? [10, 20] : [];
    const words = [record.type, ...record.groups.map((group) => worded(group, open))];
    return words.join(' ') !== form;
  });
  if (wrong === -1) return [];
  const line = records[wrong]?.line;
  const message = `the drawing lacks "${forms[wrong]!}" in its place, which readers of DXF need.`;
  return [fault('dxf-form', message, { file, ...(line === undefined ? {} : { line }) })];
}

/**
 * Whether an entity has as many vertices as it says, figures where figures must be, and, if it belongs to a
 * polyline, that one's layer.
 */
function isWhole(record: DxfRecord, polyline: DxfRecord | undefined): boolean {
  const { type, groups } = record;
  const isFigure = ({ code, value }: DxfGroup): boolean =>
    code < 10 || code > 59 || /^-?\d+(?:\.\d+)?$/.test(value);
  if (!groups.every(isFigure)) return false;
  switch (type) {
    case 'LWPOLYLINE':
      return valueOf(record, 90) === String(groups.filter(({ code }) => code === 10).length);
    case 'POLYLINE':
      return valueOf(record, 10) === '0' && valueOf(record, 20) === '0';
    case 'VERTEX':
    case 'SEQEND':
      return valueOf(record, 8) === valueOf(polyline, 8);
    default:
      return true;
  }
}

/** How far rounding may put the corners of the drawing, mm. */
const rounding = 0.001;

function cornerFaults(
  { line, groups }: DxfRecord,
  entities: readonly Entity[],
  file: string,
): Finding[] {
  const { minX, minY, maxX, maxY } = boxOfEntities(entities);
  const right = [minX, minY, maxX, maxY];
  const said = groups
    .filter(({ code }) => code === 10 || code === 20)
    .map(({ value }) => Number(value));
  if (said.every((value, i) => Math.abs(value - right[i]!) <= rounding)) return [];
  const message = `the drawing says that it reaches from ${said[0]}, ${said[1]} to ${said[2]}, ${said[3]} mm; it reaches from ${right[0]}, ${right[1]} to ${right[2]}, ${right[3]}.`;
  return [fault('dxf-form', message, { file, line })];
}

/** Every record has a handle of its own, and every handle that is named is that of a record. */
function handleFaults(
  records: readonly DxfRecord[],
  begin: number,
  end: number,
  file: string,
): Finding[] {
  const findings: Finding[] = [];
  const odd = (message: string, line: number): number =>
    findings.push(fault('dxf-handle', message, { file, line }));
  const own = new Map<string, DxfRecord>();
  for (const record of records.slice(1)) {
    const handle = valueOf(record, 5);
    if (handle === undefined) continue;
    if (!/^[1-9A-F][0-9A-F]*$/.test(handle)) odd(`"${handle}" is no handle.`, record.line);
    if (own.has(handle)) odd(`the handle ${handle} is given twice.`, record.line);
    own.set(handle, record);
  }
  const seed = valueOf(records[0]!, 5)!;
  const highest = [...own.keys()].reduce(
    (most, handle) => Math.max(most, Number.parseInt(handle, 16)),
    0,
  );
  if (!/^[0-9A-F]+$/.test(seed) || Number.parseInt(seed, 16) <= highest) {
    odd(`the next free handle (HANDSEED ${seed}) is not free.`, records[0]!.line);
  }
  let table: DxfRecord | undefined;
  for (const [i, record] of records.entries()) {
    if (record.type === 'TABLE') table = record;
    if (record.type === 'ENDTAB') table = undefined;
    const owner = valueOf(record, 330);
    const wanted =
      i >= begin && i < end
        ? '*Model_Space'
        : record.type === 'BLOCK' || record.type === 'ENDBLK'
          ? blockNameAt(records, i)
          : undefined;
    if (wanted !== undefined && valueOf(own.get(owner ?? '')!, 2) !== wanted) {
      odd(`a ${record.type} is not owned by ${wanted}.`, record.line);
    }
    if (table !== undefined && table !== record && owner !== valueOf(table, 5)) {
      odd(`a ${record.type} is not owned by its table.`, record.line);
    }
    if (record.type === 'TABLE' && owner !== '0') {
      odd('a TABLE is owned by something.', record.line);
    }
    for (const { code, value } of record.groups) {
      const type = typeNamed(code, record);
      if (type === undefined || (code === 330 && value === '0')) continue;
      const named = own.get(value);
      if (named === undefined || !type.test(named.type)) {
        odd(
          `group ${code} of a ${record.type} names ${value}, which is not what must stand there.`,
          record.line,
        );
      }
    }
  }
  return findings;
}

/** What the record must be that a group names by its handle; undefined: the group names none. */
function typeNamed(code: number, { type }: DxfRecord): RegExp | undefined {
  switch (code) {
    case 330:
      return /^(?:TABLE|BLOCK_RECORD|DICTIONARY|ACDBDICTIONARYWDFLT)$/;
    case 340:
    case 390:
      return /^ACDBPLACEHOLDER$/;
    case 350:
      return type === 'DICTIONARY' ? /^(?:DICTIONARY|ACDBDICTIONARYWDFLT)$/ : /^ACDBPLACEHOLDER$/;
    default:
      return undefined;
  }
}

/** The name of the block to which a BLOCK or ENDBLK belongs. */
function blockNameAt(records: readonly DxfRecord[], i: number): string | undefined {
  const begin = records[i]!.type === 'BLOCK' ? records[i] : records[i - 1];
  return begin === undefined ? undefined : valueOf(begin, 2);
}

function valueOf(record: DxfRecord | undefined, code: number): string | undefined {
  return record?.groups.find((group) => group.code === code)?.value;
}
