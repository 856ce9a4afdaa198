import { describe, expect, it } from 'vitest';
import { decodeBytes } from '../../../src/drawing/tags/bytes.ts';
import { lines } from '../dxf.ts';

/** A header that names a version and a code page, then a text whose bytes are given. */
function bytesOf(version: string, page: string | undefined, text: Uint8Array): Uint8Array {
  const head = lines([
    [9, '$ACADVER'],
    [1, version],
    ...(page === undefined
      ? []
      : ([
          [9, '$DWGCODEPAGE'],
          [3, page],
        ] as const)),
    [1, ''],
  ]);
  // The last value ends where the text given takes its place.
  return Buffer.concat([Buffer.from(head.slice(0, -1), 'ascii'), text, utf8('\n0\nEOF\n')]);
}

const utf8 = (text: string): Uint8Array => Buffer.from(text, 'utf8');

describe('the letters of a file', () => {
  // Code points of the windows code pages [S: Unicode consortium's mapping tables].
  it.each<[string, string | undefined, Uint8Array, string]>([
    ['AC1009', 'ANSI_1252', Uint8Array.of(0x80, 0xdf, 0xfc), '€ßü'],
    ['AC1009', 'ansi_1252', Uint8Array.of(0xe9), 'é'],
    ['AC1015', 'ANSI_1250', Uint8Array.of(0xb3, 0xb9), 'łą'],
    ['AC1015', 'ANSI_1251', Uint8Array.of(0xcf), 'П'],
    ['AC1018', 'ANSI_932', Uint8Array.of(0x83, 0x4a), 'カ'],
    ['AC1021', 'ANSI_1252', utf8('Türe'), 'Türe'],
    ['AC1032', undefined, utf8('Türe'), 'Türe'],
    ['AC1009', undefined, utf8('Türe'), 'Türe'],
    ['AC1009', undefined, Uint8Array.of(0x54, 0xfc, 0x72), 'Tür'],
  ])('of version %s, code page %s', (version, page, text, expected) => {
    const { tags, findings } = decodeBytes(bytesOf(version, page, text));
    expect(tags.at(-1)!.value).toBe(expected);
    expect(findings).toEqual([]);
  });

  it('in a code page that is not known here are warned of, where there are any', () => {
    const page = 'dos860';
    expect(decodeBytes(bytesOf('AC1009', page, utf8('plain'))).findings).toEqual([]);
    expect(decodeBytes(bytesOf('AC1009', page, Uint8Array.of(0x81))).findings).toMatchObject([
      { severity: 'warning', rule: 'code-page', message: expect.stringContaining('dos860') },
    ]);
  });
});
