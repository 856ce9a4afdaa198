import {
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { proveFolder } from '../../src/jobs/prove.ts';
import type { Random } from '../support/random.ts';
import { randomFrom } from '../support/random.ts';
import { tries } from '../support/thorough.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

// Single changes to whole folders, as sticks, hands and other programs make them. Every one must be
// named. What the proof of the contents alone finds, with the list of files made anew, is asked in
// test/program/single-changes.test.ts.

/** A change to a folder: what was done, in words, or null where it would have changed nothing. */
type Change = (folder: string, random: Random) => string | null;

const anyFile = (folder: string, random: Random): string =>
  random.pick(readdirSync(folder).filter((name) => name !== 'SHA256SUMS'));

/** Changes the bytes of a file. */
function bytesChanged(change: (bytes: Buffer, random: Random) => Buffer): Change {
  return (folder, random) => {
    const name = anyFile(folder, random);
    const file = join(folder, name);
    const before = readFileSync(file);
    const after = change(before, random);
    if (after.equals(before)) return null;
    writeFileSync(file, after);
    return name;
  };
}

/** Changes the lines of a file that people and machines read as text. */
function linesChanged(change: (lines: string[], at: number) => string[]): Change {
  return (folder, random) => {
    const texts = readdirSync(folder).filter((name) => /\.(nc|dxf|json|html|svg|csv)$/.test(name));
    const file = join(folder, random.pick(texts));
    const lines = readFileSync(file, 'utf8').split('\n');
    const after = change(lines, random.below(lines.length)).join('\n');
    if (after === lines.join('\n')) return null;
    writeFileSync(file, after);
    return file;
  };
}

const changes: Readonly<Record<string, Change>> = {
  'a byte changed': bytesChanged((bytes, random) => {
    const copy = Buffer.from(bytes);
    const at = random.below(copy.length);
    copy[at] = copy[at]! ^ (1 << random.below(8));
    return copy;
  }),
  'a byte lost': bytesChanged((bytes, random) => {
    const at = random.below(bytes.length);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + 1)]);
  }),
  'a byte added': bytesChanged((bytes, random) => {
    const at = random.below(bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, at), Buffer.from(' '), bytes.subarray(at)]);
  }),
  'a file cut short': bytesChanged((bytes, random) =>
    bytes.subarray(0, random.below(bytes.length)),
  ),
  'line ends of another system': bytesChanged((bytes) =>
    Buffer.from(bytes.toString('latin1').replaceAll(/\r?\n/g, '\r\n'), 'latin1'),
  ),
  'a line lost': linesChanged((lines, at) => lines.toSpliced(at, 1)),
  'a line twice': linesChanged((lines, at) => lines.toSpliced(at, 0, lines[at]!)),
  'two lines exchanged': linesChanged((lines, at) =>
    lines.toSpliced(at, 2, ...lines.slice(at, at + 2).toReversed()),
  ),
  'a file lost': (folder, random) => {
    const name = anyFile(folder, random);
    rmSync(join(folder, name));
    return name;
  },
  'a file renamed': (folder, random) => {
    const name = anyFile(folder, random);
    renameSync(join(folder, name), join(folder, `copy of ${name}`));
    return name;
  },
  'a file twice, under another name': (folder, random) => {
    const name = anyFile(folder, random);
    cpSync(join(folder, name), join(folder, `2-${name}`));
    return name;
  },
  'two files exchanged': (folder, random) => {
    const [one, other] = [anyFile(folder, random), anyFile(folder, random)];
    if (readFileSync(join(folder, one)).equals(readFileSync(join(folder, other)))) return null;
    const text = readFileSync(join(folder, one));
    cpSync(join(folder, other), join(folder, one));
    writeFileSync(join(folder, other), text);
    return `${one}, ${other}`;
  },
  'a link in the place of a file': (folder, random) => {
    const name = anyFile(folder, random);
    renameSync(join(folder, name), join(folder, '..', name));
    symlinkSync(join('..', name), join(folder, name));
    return name;
  },
  'a folder in the place of a file': (folder, random) => {
    const name = anyFile(folder, random);
    rmSync(join(folder, name));
    mkdirSync(join(folder, name));
    return name;
  },
  'something of others in a folder of its own': (folder, random) => {
    mkdirSync(join(folder, 'old'));
    const name = random.pick(['loop.nc', 'letter.txt', '.nc']);
    writeFileSync(join(folder, 'old', name), 'M2\n');
    return name;
  },
  'a line lost from the list': (folder, random) => {
    const list = join(folder, 'SHA256SUMS');
    const lines = readFileSync(list, 'utf8').trimEnd().split('\n');
    writeFileSync(list, `${lines.toSpliced(random.below(lines.length), 1).join('\n')}\n`);
    return 'SHA256SUMS';
  },
  'a digit changed in the list': (folder, random) => {
    const list = join(folder, 'SHA256SUMS');
    const text = readFileSync(list, 'utf8');
    const lines = text.split('\n').length - 1;
    const start = text.split('\n').slice(0, random.below(lines)).join('\n').length;
    const at = text.slice(start).search(/[0-9a-f]{64}/) + start + random.below(64);
    writeFileSync(list, text.slice(0, at) + (text[at] === '0' ? '1' : '0') + text.slice(at + 1));
    return 'SHA256SUMS';
  },
  'the list lost': (folder) => {
    rmSync(join(folder, 'SHA256SUMS'));
    return 'SHA256SUMS';
  },
};

/** What may be done to a folder and changes nothing that anybody relies on. */
const harmless: Readonly<Record<string, readonly [why: string, change: (folder: string) => void]>> =
  {
    'the lines of the list in another order': [
      'the list names files, in no order',
      (folder) => {
        const list = join(folder, 'SHA256SUMS');
        const lines = readFileSync(list, 'utf8').trimEnd().split('\n');
        writeFileSync(list, `${lines.toReversed().join('\n')}\n`);
      },
    ],
    'the list with the marks and line ends of another system': [
      'sha256sum writes a star on systems that tell texts from bytes',
      (folder) => {
        const list = join(folder, 'SHA256SUMS');
        writeFileSync(
          list,
          readFileSync(list, 'utf8').replaceAll('  ', ' *').replaceAll('\n', '\r\n'),
        );
      },
    ],
    'what systems put into folders by themselves': [
      'it holds nothing of anybody’s, and no machine reads it',
      (folder) => {
        for (const name of ['.DS_Store', 'Thumbs.db', 'desktop.ini']) {
          writeFileSync(join(folder, name), '\0');
        }
      },
    ],
  };

const { root, close } = openWorkshop(wren);
/** In everyday work one cutter is enough: what a list says does not depend on it. */
const cutters = ['long-bay', 'small-table', 'conveyor-bed'].slice(0, tries(1, 3));
const tried: string[] = [];

beforeAll(async () => {
  for (const cutter of cutters) {
    await cut({
      runFile: join(root, runFile),
      sharedFolder: join(root, 'shared'),
      out: join(root, 'out', cutter),
      cutter,
      force: false,
    });
  }
}, 60_000);

afterAll(() => {
  process.stdout.write(`${tried.length} single changes to folders tried, each of them named\n`);
  close();
});

/** Does something to a copy of a folder, and tells what the proof says of it. */
function proofAfter(cutter: string, change: (folder: string) => void): string[] {
  const copy = join(root, 'stick', cutter);
  rmSync(join(root, 'stick'), { recursive: true, force: true });
  cpSync(join(root, 'out', cutter), copy, { recursive: true });
  change(copy);
  try {
    return proveFolder(copy).findings.map(({ severity, message }) => `${severity}: ${message}`);
  } catch (error) {
    return [String(error)];
  }
}

describe.each(cutters)('a folder of %s', (cutter) => {
  it.each(Object.keys(changes))('names %s', (kind) => {
    const random = randomFrom(cutter.length * 1000 + kind.length);
    for (let n = 0; n < tries(1, 1); n++) {
      let done: string | null = null;
      const said = proofAfter(cutter, (folder) => {
        for (let again = 0; done === null && again < 20; again++) {
          done = changes[kind]!(folder, random);
        }
      });
      expect(done, 'a change that changes something').not.toBeNull();
      expect([done, said.length > 0]).toEqual([done, true]);
      tried.push(kind);
    }
  });

  it.each(Object.entries(harmless))('passes %s', (_, [, change]) => {
    expect(proofAfter(cutter, change)).toEqual([]);
  });
});
