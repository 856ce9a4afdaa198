import { refuse } from '../../base/findings.ts';
import type { Tag } from './tags.ts';
import { checkedTag, mostTags, refuseLength } from './tags.ts';

/** The bytes with which a binary DXF begins, by the DXF reference. */
const sentinel = 'AutoCAD Binary DXF\r\n\u001a\0';

export function isBinary(bytes: Uint8Array): boolean {
  return [...sentinel].every((sign, i) => bytes[i] === sign.charCodeAt(0));
}

/**
 * The tags of a binary DXF up to its EOF. `line` is the line at which the tag would begin in a DXF in
 * text form. Group codes take two bytes; in files of version R12 one, where 255 announces two more.
 * `decode` turns bytes into text. Throws a Refusal with line and group if the file is damaged or
 * incomplete.
 */
export function readBinaryTags(bytes: Uint8Array, decode: (bytes: Uint8Array) => string): Tag[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const tags: Tag[] = [];
  let at = sentinel.length;
  const wide = bytes[at] === 0 && bytes[at + 1] === 0;
  let code = 0;
  const line = (): number => 2 * tags.length + 1;
  const take = (count: number): number => {
    if (at + count > bytes.length) cutOff(line(), code);
    at += count;
    return at - count;
  };
  const text = (): string => {
    const end = bytes.indexOf(0, at);
    if (end < 0) cutOff(line(), code);
    const from = take(end - at + 1);
    return decode(bytes.subarray(from, end));
  };
  const values: Readonly<Record<Form, () => string>> = {
    text,
    double: () => realText(view.getFloat64(take(8), true), line(), code),
    byte: () => String(bytes[take(1)]!),
    short: () => String(view.getInt16(take(2), true)),
    long: () => String(view.getInt32(take(4), true)),
    huge: () => String(view.getBigInt64(take(8), true)),
    chunk: () => {
      const length = bytes[take(1)]!;
      take(length);
      return '';
    },
  };
  for (;;) {
    if (wide) code = view.getUint16(take(2), true);
    else {
      code = bytes[take(1)]!;
      if (code === 255) code = view.getUint16(take(2), true);
    }
    const form = formOf(code);
    if (form === undefined) {
      refuse(
        'group-code',
        `${code} stands where a DXF group code (0 to 1071) must stand.`,
        'The file is damaged; export the drawing again.',
        { line: line() },
      );
    }
    const tag = checkedTag({ code, value: values[form](), line: line() });
    if (tag.code === 0 && tag.value === 'EOF') return tags;
    tags.push(tag);
    if (tags.length > mostTags) refuseLength(code, tag.line);
  }
}

type Form = 'text' | 'double' | 'byte' | 'short' | 'long' | 'huge' | 'chunk';

/**
 * How values are stored. Each row holds from the code after the row before it up to `last`, by the DXF
 * reference. undefined: these codes do not exist.
 */
const forms: readonly (readonly [last: number, form: Form | undefined])[] = [
  [9, 'text'],
  [59, 'double'],
  [79, 'short'],
  [99, 'long'],
  [105, 'text'],
  [109, undefined],
  [149, 'double'],
  [159, undefined],
  [169, 'huge'],
  [179, 'short'],
  [209, undefined],
  [239, 'double'],
  [269, undefined],
  [289, 'short'],
  [299, 'byte'],
  [309, 'text'],
  [319, 'chunk'],
  [369, 'text'],
  [389, 'short'],
  [399, 'text'],
  [409, 'short'],
  [419, 'text'],
  [429, 'long'],
  [439, 'text'],
  [459, 'long'],
  [469, 'double'],
  [481, 'text'],
  [998, undefined],
  [1003, 'text'],
  [1004, 'chunk'],
  [1009, 'text'],
  [1059, 'double'],
  [1070, 'short'],
  [1071, 'long'],
];

function formOf(code: number): Form | undefined {
  return forms.find(([last]) => code <= last)?.[1];
}

function realText(value: number, line: number, code: number): string {
  if (Number.isFinite(value)) return String(value);
  return refuse(
    'number',
    `${value} is not a number (group ${code}).`,
    'The file is damaged; export the drawing again.',
    { line: line + 1 },
  );
}

function cutOff(line: number, code: number): never {
  return refuse(
    'cut-off',
    `the binary file ends without EOF, in group ${code}: it is incomplete, cut off while it was written or copied.`,
    'Export the drawing again and copy the whole file.',
    { line },
  );
}
