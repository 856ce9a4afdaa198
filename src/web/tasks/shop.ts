import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { namesIn } from '../../base/named-file.ts';
import { readYaml } from '../../base/yaml.ts';
import { fingerprintOf } from '../../program/record/fingerprint.ts';
import { readCutter } from '../../knife/cutter.ts';
import { useOf } from '../../handing/colour.ts';
import type { Part } from '../../handing/part.ts';
import { materialsNamed, usesOf } from '../../pattern/choice.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import { setSchema } from '../../pattern/set-file.ts';
import { readBinding } from '../../pattern/shop/binding.ts';
import type { Material } from '../../pattern/shop/material.ts';
import { fitsUse, readMaterials } from '../../pattern/shop/material.ts';
import type { Use } from '../../pattern/words.ts';
import { uses } from '../../pattern/words.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import { isUnfinished } from '../../publishing/unfinished.ts';
import { recordedName } from '../../program/record/run-record.ts';
import type { RunFile } from '../../run/run-file.ts';
import { readRun, readStock } from '../../run/run-file.ts';
import type { CuttingCard } from '../api/cut-steps.ts';
import { cuttingCard } from '../api/cut-steps.ts';
import type { FolderCard, MaterialCard, RunCard, SetCard, Shop } from '../api/shop.ts';
import { readCutting } from '../workshop/cut-marks.ts';
import { archivedRuns } from '../workshop/archive.ts';
import { quotable } from '../workshop/quoted.ts';
import type { Workshop } from '../workshop/workshop.ts';

/**
 * Gathers everything that the workshop has to choose from. What cannot be read is left out, and the
 * findings say so.
 */
export function shopCards({ shop }: { shop: Workshop }): Shop {
  const findings: Finding[] = [];
  const each = <T>(names: readonly string[], read: (name: string) => T): T[] =>
    names.flatMap((name) => {
      try {
        return [read(name)];
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        findings.push(...error.findings);
        return [];
      }
    });
  const { patterns, shared } = shop;
  const folders = foldersIn(patterns).filter((name) =>
    existsSync(join(patterns, name, 'set.yaml')),
  );
  const sets = each(folders, (name) => setCard(name, shop));
  const named = namesIn(join(shared, 'materials'));
  const materials = each(named, (name) => readMaterials(new Map([[name, {}]]), shared).get(name)!);
  const cutters = each(namesIn(join(shared, 'cutters')), (name) => {
    const { title } = readCutter(shared, name).cutter;
    return { name, title };
  });
  const stockFile = join(shared, 'rolls.yaml');
  const stock = existsSync(stockFile) ? each(['rolls'], () => readStock(stockFile).rolls) : [];
  const away = new Set(each(['archive'], () => archivedRuns(shop)).flat());
  const runs = [...new Set([...namesIn(patterns), ...runFolders(shop)])].sort();
  return {
    sets,
    materials: materials.map(materialCard),
    cutters,
    finishes: each(namesIn(join(shared, 'bindings')), (name) => {
      const { title, colours = null } = readBinding(shared, name, {});
      return { name, title, colours };
    }),
    labels: namesIn(join(shared, 'labels')),
    runs: runs
      .map((name) => runCard(name, shop, away.has(name)))
      .toSorted((a, b) => (a.changed < b.changed ? 1 : -1)),
    stock: stock[0] ?? {},
    findings,
  };
}

function foldersIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !isUnfinished(entry.name))
    .map(({ name }) => name)
    .sort();
}

/**
 * Names of the run folders, without those that are still being written or were left behind when the
 * program was ended.
 */
function runFolders({ out }: Workshop): string[] {
  return foldersIn(out).filter((name) => existsSync(join(out, name, 'run.json')));
}

function setCard(name: string, { patterns, shared }: Workshop): SetCard {
  const { value } = readYaml(join(patterns, name, 'set.yaml'), setSchema, 'set file');
  const pieces = Object.values(value.pieces);
  const binding = value.binding === undefined ? null : readBinding(shared, value.binding, {});
  return {
    name,
    title: value.title,
    drawn: value.drawn,
    pieces: Object.keys(value.pieces),
    groups: value.groups ?? {},
    options: Object.entries(value.options ?? {}).map(
      ([option, { words, values, default: usual }]) => ({
        name: option,
        words,
        values: values ?? null,
        usual,
      }),
    ),
    materials: materialsByUse(value),
    finish: value.binding ?? null,
    colours: binding?.colours ?? null,
    pads: Object.entries(value.pieces).flatMap(([piece, { pad, side }]) =>
      pad === undefined ? [] : [{ piece, side }],
    ),
    hasBoards: pieces.some(({ board }) => board !== undefined),
    hasUnderlay: pieces.some(({ underlay }) => underlay !== undefined),
  };
}

/** What each use is cut from: what orders may choose instead of, and what pieces name themselves. */
function materialsByUse(content: SetContent): SetCard['materials'] {
  const named = usesOf(content);
  const used = Object.entries(content.pieces).flatMap(([piece, entry]) =>
    Object.entries(materialsNamed(entry)).map(([kind, name]) => ({
      name,
      use: useOf({ piece, kind: kind as Part['kind'] }, { uses: named }),
    })),
  );
  const ofUse = (use: Use): SetCard['materials'][Use] => {
    const own = new Set(used.filter((one) => one.use === use).map(({ name }) => name));
    const usual = own.has(use) ? (content.uses?.[use] ?? null) : null;
    // Where the set file says no usual one, the word is the name of a material.
    return { usual, fixed: [...own].filter((name) => name !== use || usual === null) };
  };
  return {
    carpet: ofUse('carpet'),
    pad: ofUse('pad'),
    board: ofUse('board'),
    underlay: ofUse('underlay'),
  };
}

function materialCard(material: Material): MaterialCard {
  const { name, title, kind, thickness, turns, gap, roll, colours } = material;
  const { width, selvedge, startMargin, length = null } = roll;
  return {
    name,
    title,
    kind,
    uses: uses.filter((use) => fitsUse(material, use)),
    colours:
      colours === undefined
        ? null
        : Object.entries(colours).map(([colour, { sample }]) => ({ name: colour, sample })),
    thickness,
    turns,
    gap,
    width,
    selvedge,
    startMargin,
    length,
  };
}

/** What a run is in short. One whose file cannot be read is there all the same, and says why. */
function runCard(name: string, shop: Workshop, isArchived: boolean): RunCard {
  const { patterns, out } = shop;
  const file = join(patterns, `${name}.yaml`);
  const record = join(out, name, 'run.json');
  const { content, findings } = existsSync(file) ? runOrFindings(file) : noRun;
  const folder = existsSync(record) ? knownFolder(record) : null;
  const changed = [file, record]
    .filter((one) => existsSync(one))
    .map((one) => statSync(one).mtime.toISOString());
  const rolls = Object.values(content?.rolls ?? {}).flat();
  return {
    name,
    title: content?.title ?? folder?.title ?? name,
    orders: content?.orders ?? null,
    cutter: content?.cutter ?? null,
    isArchived,
    hasOrdersFile: content?.ordersFile !== undefined,
    isLaid: rolls.some(({ laid }) => laid.length > 0),
    folder,
    cutting: cuttingOf(name, shop, folder),
    findings: findings.map((one) => quotable(one, shop)),
    changed: changed.sort().at(-1)!,
  };
}

/** How far the files of a run are cut. Why its marks cannot be read is told where it is cut. */
function cuttingOf(name: string, shop: Workshop, folder: FolderCard | null): CuttingCard {
  if (folder === null) return cuttingCard([], []);
  const { lays, fingerprint } = folder;
  const rolls = lays.map(({ name: roll, bites }) => ({ roll, bites, hasRest: false }));
  try {
    const { ticks, before } = readCutting(shop, name, { fingerprint, rolls });
    const card = cuttingCard(rolls, ticks);
    return before.length > 0 ? { ...card, state: 'before' } : card;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { ...cuttingCard(rolls, []), state: 'unknown' };
  }
}

/** What a run file says; null where it cannot be read, and the findings say why. */
interface ReadRunFile {
  readonly content: RunFile | null;
  readonly findings: readonly Finding[];
}

const noRun: ReadRunFile = { content: null, findings: [] };

function runOrFindings(file: string): ReadRunFile {
  try {
    return { content: knownRun(file), findings: [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { content: null, findings: error.findings };
  }
}

interface KnownFolder extends FolderCard {
  /** undefined: the record cannot be read. */
  readonly title: string | undefined;
}

/** What a run.json says in short. Whether all of it is sound is asked when the run is opened. */
function folderCard(file: string): KnownFolder {
  const text = readFileSync(file, 'utf8');
  try {
    const record: RunRecord = JSON.parse(text);
    return {
      title: String(record.title),
      fingerprint: fingerprintOf(text),
      recutOf: record.recutOf?.run ?? null,
      parts: record.parts.length,
      lays: record.lays.map((lay) => ({
        name: recordedName(lay),
        length: lay.length,
        density: lay.density,
        bites: lay.bites.length,
      })),
    };
  } catch {
    return { title: undefined, fingerprint: '', recutOf: null, parts: 0, lays: [] };
  }
}

/**
 * Gives a reader that reads a file again only where it, or what else was read for it, has changed: records
 * and laid runs are long.
 */
function whileUnchanged<T>(
  read: (file: string) => T,
  others: (value: T) => readonly string[] = () => [],
): (file: string) => T {
  const known = new Map<string, { readonly value: T; readonly changed: string }>();
  const changedAt = (files: readonly string[]): string =>
    files.map((file) => (existsSync(file) ? statSync(file).mtimeMs : 'gone')).join(' ');
  return (file) => {
    const before = known.get(file);
    if (before !== undefined && before.changed === changedAt([file, ...others(before.value)])) {
      return before.value;
    }
    const value = read(file);
    known.set(file, { value, changed: changedAt([file, ...others(value)]) });
    return value;
  };
}

const knownRun = whileUnchanged(readRun, ({ ordersFile }) =>
  ordersFile === undefined ? [] : [ordersFile],
);
const knownFolder = whileUnchanged(folderCard);
