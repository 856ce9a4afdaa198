import { join, resolve } from 'node:path';
import type { PartFormat } from '../jobs/derive.ts';
import { deriveSet, partFormats } from '../jobs/derive.ts';
import { changesTable } from '../papers/tables/changes-table.ts';
import { refuse } from '../base/findings.ts';
import { counted } from '../base/wording.ts';
import { readYesNo } from '../base/yes-no.ts';
import type { OptionValue } from '../pattern/conditions.ts';
import type { Hand } from '../pattern/words.ts';
import { hands } from '../pattern/words.ts';
import type { Command } from './command.ts';
import { findingLines } from './print.ts';
import { tableLines } from './table.ts';

interface DeriveArguments {
  set: string;
  hand: Hand;
  out: string;
  'heel-pads': 'driver' | 'both' | 'none';
  boards: boolean;
  underlay: boolean;
  shared: string | undefined;
  force: boolean;
  as: PartFormat;
  option: string[] | undefined;
}

export const deriveCommand: Command<DeriveArguments> = {
  command: 'derive <set>',
  describe:
    'a set for the other hand of drive: its parts, what moved and why, and the set drawn anew',
  builder: (args) =>
    args
      .positional('set', { type: 'string', demandOption: true, describe: 'folder of the set' })
      .option('hand', {
        choices: hands,
        demandOption: true,
        describe: 'which side the driver sits on',
      })
      .option('out', { type: 'string', demandOption: true, describe: 'folder to write' })
      .option('heel-pads', {
        choices: ['driver', 'both', 'none'] as const,
        default: 'driver' as const,
        describe: 'which sides get a heel pad',
      })
      .option('boards', { type: 'boolean', default: true, describe: '--no-boards leaves them out' })
      .option('underlay', {
        type: 'boolean',
        default: true,
        describe: '--no-underlay leaves it out',
      })
      .option('option', {
        type: 'string',
        array: true,
        nargs: 1,
        requiresArg: true,
        describe:
          'what the vehicle has, where not as the set says: NAME=true, NAME=false or NAME=VALUE',
      })
      .option('shared', {
        type: 'string',
        describe: 'folder of materials and layers; ../../shared from the set if left out',
      })
      .option('as', {
        choices: partFormats,
        default: 'parts' as const,
        describe: 'a drawing a part, or one with numbered layers as in ASTM D6673',
      })
      .option('force', {
        type: 'boolean',
        default: false,
        describe: 'write over what was derived before',
      })
      .example(
        '$0 derive patterns/fenlark --hand LHD --option overdrive=true --out out/fenlark-LHD',
        'with an option of a set that has one',
      )
      .example(
        '$0 derive patterns/fenlark --hand LHD --out out/fenlark-LHD',
        'look at out/fenlark-LHD/hands.svg first',
      ),
  run: (
    { set, hand, out, 'heel-pads': heelPads, boards, underlay, option, shared, force, as },
    { say, warn },
  ) => {
    const folder = resolve(out);
    const { parts, changes, findings } = deriveSet({
      setFolder: resolve(set),
      sharedFolder: resolve(shared ?? join(set, '../../shared')),
      out: folder,
      options: { hand, heelPads, boards, underlay, options: optionsSaid(option ?? []) },
      force,
      as,
    });
    for (const line of findingLines(findings)) warn(line);
    const moved = changes.filter((change) => change.moved);
    for (const line of tableLines(changesTable(moved))) say(line);
    say(
      `${folder}: ${counted(parts.length, 'part')} for ${hand}; ${moved.length} of ${changes.length} things drawn moved. Look at hands.svg first; changes.csv has them all.`,
    );
    return 0;
  },
};

/** Options as the command line says them: NAME=VALUE. Throws a Refusal. */
function optionsSaid(said: readonly string[]): Record<string, OptionValue> {
  const pairs = said.map((text): [string, OptionValue] => {
    const [, name, value] =
      /^([^=]+)=([^=]+)$/.exec(text) ?? refuseOption(text, 'is no NAME=VALUE');
    return [name!, readYesNo(value!) ?? value!];
  });
  const options = new Map(pairs);
  const twice = pairs.find(([name, value]) => options.get(name) !== value);
  if (twice !== undefined) refuseOption(twice.join('='), 'is said otherwise by another --option');
  return Object.fromEntries(options);
}

function refuseOption(text: string, why: string): never {
  return refuse(
    'argument',
    `--option ${text} ${why}.`,
    'Write it like --option overdrive=true or --option console=long.',
  );
}
