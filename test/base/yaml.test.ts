import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { runSchema } from '../../src/run/run-file.ts';
import { readYaml } from '../../src/base/yaml.ts';

const folder = mkdtempSync(join(tmpdir(), 'pileway-yaml-'));
afterAll(() => rmSync(folder, { recursive: true }));

const good = `title: a run
cutter: long-bay
orders:
  - order: "7"
    set: fenlark
    hand: RHD
`;

/** The wording of the refusal of a text, with the folder cut off. */
function refusal(text: string): string {
  const file = join(folder, 'run.yaml');
  writeFileSync(file, text);
  try {
    readYaml(file, runSchema, 'run file');
  } catch (error) {
    if (error instanceof Refusal) return error.message.replaceAll(`${folder}/`, '');
    throw error;
  }
  throw new Error('the text was accepted');
}

describe('a YAML file that does not fit says where, what and what is allowed', () => {
  it('accepts the good one that the others are made from, and fills in what is left out', () => {
    const file = join(folder, 'good.yaml');
    writeFileSync(file, good);
    const { value } = readYaml(file, runSchema, 'run file');
    expect(value.orders[0]).toMatchObject({
      hand: 'RHD',
      heelPads: 'driver',
      quantity: 1,
      boards: true,
    });
  });

  it.each([
    [
      'an unknown key',
      good.replace('    hand:', '    hnad: RHD\n    hand:'),
      /^run\.yaml:6:5: "hnad" is not a key of "orders\.0"/,
    ],
    [
      'an unknown hand',
      good.replace('RHD', 'UHD'),
      /^run\.yaml:6:5: "orders\.0\.hand".*is none of: RHD, LHD/,
    ],
    ['a missing key', good.replace('    set: fenlark\n', ''), /^run\.yaml:4:\d+: "orders\.0\.set"/],
    [
      'a number out of range',
      good.replace('    hand', '    quantity: 0\n    hand'),
      /^run\.yaml:6:5: "orders\.0\.quantity".*at least 1 is allowed/,
    ],
    ['no orders at all', 'title: a\ncutter: b\norders: []\n', /^run\.yaml:3:1: "orders"/],
    ['broken YAML', good.replace('  - order', '  - order: [1\n  - order'), /^run\.yaml:\d+:\d+: /],
    ['an empty file', '', /^run\.yaml.*the run file/],
  ])('%s', (_, text, words) => {
    expect(refusal(text)).toMatch(words);
  });

  it('a missing file and a folder are told apart', () => {
    expect(() => readYaml(join(folder, 'none.yaml'), runSchema, 'run file')).toThrow(
      /none\.yaml: there is no run file here/,
    );
    expect(() => readYaml(folder, runSchema, 'run file')).toThrow(
      /this is a folder, not a run file/,
    );
  });
});
