import type { Finding } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';
import { isBinary, readBinaryTags } from './binary.ts';
import type { Tag } from './tags.ts';
import { readTags } from './tags.ts';

/** The first bytes of files that people send instead of a DXF. */
const strangers: readonly (readonly [start: string, what: string])[] = [
  ['AC10', 'a DWG drawing'],
  ['\u0089PNG', 'a PNG picture'],
  ['\u00ff\u00d8\u00ff', 'a JPEG picture'],
  ['%PDF', 'a PDF'],
  ['PK\u0003\u0004', 'a ZIP archive'],
  ['<', 'an SVG or XML file'],
  ['\u00ff\u00fe', 'a file in UTF-16'],
  ['\u00fe\u00ff', 'a file in UTF-16'],
];

/**
 * The tags of a DXF, in text or binary form. Texts are UTF-8 from version AC1021 (2007) on; in older
 * files they are as $DWGCODEPAGE says. Old files without it are read as UTF-8 if they are valid UTF-8,
 * otherwise as windows-1252. Throws a Refusal if the file is not a DXF or is damaged. A code page that
 * cannot be decoded is a warning.
 */
export function decodeBytes(bytes: Uint8Array): { tags: Tag[]; findings: Finding[] } {
  if (bytes.length > mostBytes) {
    const size = Math.round(bytes.length / 1e6);
    const todo = 'Export the pattern pieces alone, or in several files.';
    refuse('too-long', `the file has ${size} MB; no pattern needs so much.`, todo);
  }
  // Read so that every byte is one character, whatever the file is. A TextDecoder cannot do that: it takes
  // Latin 1 for windows-1252. The header stands near the start.
  const start = Buffer.from(bytes.subarray(0, 65_536)).toString('latin1');
  refuseStrangers(start);
  const version = Number(/\$ACADVER\W+1?\W*AC(\d+)/.exec(start)?.[1] ?? 0);
  const page = /\$DWGCODEPAGE\W+3?\W*([\w-]+)/.exec(start)?.[1];
  const label = version >= 1021 || page === undefined ? undefined : encodingOf(page);
  const decode = (part: Uint8Array): string =>
    label === undefined ? decodeUtf8(part) : decodeAs(label, part);
  const isUnknown = version < 1021 && page !== undefined && label === undefined;
  const findings = isUnknown && !isAscii(bytes) ? [unknownPage(page)] : [];
  if (isBinary(bytes)) return { tags: readBinaryTags(bytes, decode), findings };
  return { tags: readTags(decode(bytes)), findings };
}

/** Roughly the longest string that Node can hold: a larger file cannot even be looked at. */
const mostBytes = 500_000_000;

function refuseStrangers(start: string): void {
  if (start.trim() === '') {
    refuse('not-a-dxf', 'this file is empty.', 'Export the drawing again.');
  }
  const what = strangers.find(([signature]) => start.startsWith(signature))?.[1];
  if (what !== undefined) {
    const todo = 'In the drawing program, save or export it as DXF.';
    refuse('not-a-dxf', `this is ${what}, not a DXF.`, todo);
  }
}

function decodeUtf8(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return decodeAs('windows-1252', bytes);
  }
}

/**
 * Decodes bytes. Some versions of Node decode windows-1252 as Latin 1, which has control characters at 80
 * to 9F: these are replaced.
 */
function decodeAs(label: string, bytes: Uint8Array): string {
  const text = new TextDecoder(label).decode(bytes);
  if (label !== 'windows-1252') return text;
  return text.replace(/[\u0080-\u009f]/g, (unit) => windows1252[unit.charCodeAt(0) - 0x80]!);
}

/** The characters of windows-1252 at 80 to 9F. Five of these codes mean nothing and stay as they are. */
const windows1252 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/** The name by which TextDecoder knows a DXF code page. */
function encodingOf(page: string): string | undefined {
  const number = /^(?:ansi_|cp|windows-)?(\d+)$/i.exec(page)?.[1];
  const eastern: Readonly<Record<string, string>> = {
    874: 'windows-874',
    932: 'shift_jis',
    936: 'gbk',
    949: 'euc-kr',
    950: 'big5',
  };
  if (number === undefined) return undefined;
  return /^125[0-8]$/.test(number) ? `windows-${number}` : eastern[number];
}

function isAscii(bytes: Uint8Array): boolean {
  return bytes.every((byte) => byte < 128);
}

function unknownPage(page: string): Finding {
  return {
    severity: 'warning',
    rule: 'code-page',
    message: `The texts are in code page ${page}, which is not known here; letters beyond A to Z may be wrong.`,
    todo: 'Compare the names, or export the drawing in version 2007 or later.',
    where: {},
  };
}
