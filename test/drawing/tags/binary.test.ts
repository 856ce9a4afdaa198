import { describe, expect, it } from 'vitest';
import { readDrawingBytes } from '../../../src/drawing/read.ts';
import { readDrawingText } from '../read-text.ts';
import { Refusal } from '../../../src/base/findings.ts';
import { sound } from '../hostile.ts';

/**
 * A text DXF as a binary one, by the DXF reference: group codes of two bytes, or of one in R12; doubles
 * for 10 to 59, 140 to 149 and 210 to 239, two bytes for 60 to 79, four for 90 to 99, text to a zero.
 */
function binary(text: string, wide: boolean): Uint8Array {
  const all = text.split('\n').slice(0, -1);
  const chunks: Buffer[] = [Buffer.from('AutoCAD Binary DXF\r\n\u001a\0', 'latin1')];
  for (let i = 0; i < all.length; i += 2) {
    const [code, value] = [Number(all[i]), all[i + 1]!];
    chunks.push(wide ? Buffer.from([code & 255, code >> 8]) : Buffer.from([code]));
    chunks.push(valueBytes(code, value));
  }
  return Buffer.concat(chunks);
}

function valueBytes(code: number, value: string): Buffer {
  const isDouble = (code >= 10 && code <= 59) || (code >= 210 && code <= 239);
  const size = isDouble ? 8 : code >= 60 && code <= 79 ? 2 : code >= 90 && code <= 99 ? 4 : 0;
  const bytes = Buffer.alloc(size);
  if (size === 0) return Buffer.from(`${value}\0`, 'latin1');
  if (size === 8) bytes.writeDoubleLE(Number(value));
  else bytes.writeIntLE(Number(value), 0, size);
  return bytes;
}

const asText = readDrawingText(sound, 'case.dxf');

describe('a binary DXF', () => {
  it.each([true, false])('says the same as its text form, group codes of two bytes: %s', (wide) => {
    expect(readDrawingBytes(binary(sound, wide), 'case.dxf')).toEqual(asText);
  });

  it('cut off anywhere is refused', () => {
    const whole = binary(sound, true);
    expect(whole.length).toBeGreaterThan(10 * 30);
    for (let end = 30; end < whole.length; end += 7) {
      expect(() => readDrawingBytes(whole.subarray(0, end), 'case.dxf')).toThrow(Refusal);
    }
  });

  it('with a number that is none is refused with its group', () => {
    const bytes = Buffer.from(binary(sound, true));
    const at = bytes.indexOf(Buffer.from([40, 0]), 300);
    bytes.writeDoubleLE(NaN, at + 2);
    expect(() => readDrawingBytes(bytes, 'case.dxf')).toThrow(/NaN is not a number \(group 40\)/);
  });
});
