import { emptyBox, unionBox } from '../geometry/paths/box.ts';
import type { Finding } from '../base/findings.ts';
import { hasErrors, Refusal, refuse } from '../base/findings.ts';
import { readBytes } from '../base/yaml.ts';
import { decodeBytes } from './tags/bytes.ts';
import type { DxfBlock, DxfContent } from './tags/content.ts';
import { contentOf, isExternal } from './tags/content.ts';
import type { Block, Drawing } from './drawing.ts';
import { boxOfEntities } from './extents.ts';
import { findingsOf } from './findings.ts';
import { fitted } from './entities/fitting.ts';
import { layerStates } from './tags/layers.ts';
import type { Reading } from './entities/spaces.ts';
import { blockKey, readBlock, readSpace } from './entities/spaces.ts';
import type { Tag } from './tags/tags.ts';
import type { UnitsOptions, UnitsRead } from './units.ts';
import { mmPer, unitsFindings, unitsOf } from './units.ts';
import type { DrawnUnits } from './drawn-units.ts';
import { drawnUnits } from './drawn-units.ts';

/**
 * Reads a DXF of any version, in text or binary form. Units: see unitsOf and drawnUnits. An entity that
 * is drawn but cannot be read is an error among the findings, and is never left out silently. What is
 * hidden or in paper space is left out with a warning. Throws a Refusal, with file and line, if the file
 * is damaged, incomplete or no DXF.
 */
export function readDrawing(file: string, options: UnitsOptions = {}): Drawing {
  return readDrawingBytes(readBytes(file, 'drawing'), file, options);
}

/** Reads a DXF as readDrawing does, from bytes. `file` is its name in findings. */
export function readDrawingBytes(
  bytes: Uint8Array,
  file: string,
  options: UnitsOptions = {},
): Drawing {
  return inFile(file, () => {
    const { tags, findings } = decodeBytes(bytes);
    const drawing = drawingOf(tags, file, options);
    return { ...drawing, findings: [...findings, ...drawing.findings] };
  });
}

function drawingOf(tags: readonly Tag[], file: string, options: UnitsOptions): Drawing {
  const content = contentOf(tags);
  const stated = unitsOf(content.header, options);
  const first = drawnIn(content, file, stated);
  const drawn = drawnUnits(first);
  const units = stated.unitsFrom === 'option' ? stated : betterUnits(stated, drawn);
  const read = units.units === stated.units ? first : drawnIn(content, file, units);
  const spaces = read.entities.length > 0 ? [read] : read.blocks;
  const box = spaces.map((space) => boxOfEntities(space.entities)).reduce(unionBox, emptyBox);
  return {
    ...read,
    ...units,
    squareLines: drawn.squareLines,
    findings: [
      ...unitsFindings(units, stated, options, box),
      ...againstSquare(units, drawn),
      ...drawn.findings,
      ...read.findings,
    ],
  };
}

/**
 * An error if the units of the option and of the check square differ: one of them is wrong, and carpet
 * would be spoilt.
 */
function againstSquare({ units, unitsFrom }: UnitsRead, drawn: DrawnUnits): Finding[] {
  const square = drawn.units;
  if (unitsFrom !== 'option' || square?.unitsFrom !== 'square' || square.units === units) return [];
  return [
    {
      severity: 'error',
      rule: 'units-square',
      message: `--units says ${units}, and the check square measures right in ${square.units}.`,
      todo: 'Leave --units out, or correct the square.',
      where: { line: drawn.squareLines[0]! },
    },
  ];
}

/**
 * The units to use when what is drawn also says something: a check square counts more than all else; a
 * text only counts if the header says nothing.
 */
function betterUnits(stated: UnitsRead, { units }: DrawnUnits): UnitsRead {
  if (units === undefined) return stated;
  if (units.unitsFrom === 'text' && stated.unitsFrom === 'header') return stated;
  const agrees = units.units === stated.units && stated.unitsFrom === 'header';
  return agrees ? stated : units;
}

function drawnIn(content: DxfContent, file: string, units: UnitsRead): Drawing {
  const reading = readingOf(content, mmPer[units.units]);
  const model = readSpace(reading, content.entities, []);
  const used = new Set(model.uses);
  const { blocks, findings } = readBlocks(reading, content.blocks, used);
  const { entities, remarks } = fitted(model.entities);
  return {
    file,
    ...units,
    blocks,
    entities,
    unplaced: blocks.map(({ name }) => name).filter((name) => !used.has(blockKey(name))),
    squareLines: [],
    findings: [...findingsOf([...model.remarks, ...remarks]), ...findings],
  };
}

function readingOf(content: DxfContent, mmPerUnit: number): Reading {
  const blocks = new Map<string, DxfBlock>();
  for (const block of content.blocks) {
    const key = blockKey(block.name);
    if (blocks.has(key) && isOwn(block)) {
      refuse('structure', `there are two blocks named ${block.name}.`, 'Rename one of them.', {
        line: block.head.line,
      });
    }
    blocks.set(key, block);
  }
  const layerState = layerStates(content.layers);
  return { blocks, mmPerUnit, layerState, done: new Map(), produced: { entities: 0, vertices: 0 } };
}

/** The blocks that a person made, and findings on them and on all blocks that are inserted. */
function readBlocks(
  reading: Reading,
  blocks: readonly DxfBlock[],
  used: ReadonlySet<string>,
): { blocks: Block[]; findings: Finding[] } {
  const listed: Block[] = [];
  const findings: Finding[] = [];
  for (const block of blocks) {
    const isUsed = used.has(blockKey(block.name));
    if (!isUsed && !isOwn(block)) continue;
    const read = readBlock(reading, block, [], block.head.line);
    const { entities, remarks } = fitted(read.entities);
    // The curves of a block that is placed somewhere are reported at that place.
    const own = findingsOf([...read.remarks, ...(isUsed ? [] : remarks)], block.name);
    if (!isUsed && hasErrors(own)) {
      findings.push(leftOut(block, own));
    } else {
      findings.push(...own);
      if (isOwn(block)) listed.push({ name: block.name, entities });
    }
  }
  return { blocks: listed, findings };
}

/**
 * Whether a person made this block: drawing programs make some for themselves, and others are links to
 * another file.
 */
function isOwn(block: DxfBlock): boolean {
  return !/^(\*|\$(model|paper)_space)/i.test(block.name) && !isExternal(block);
}

/**
 * A warning for a block with errors that nothing places. It need not stop the work, but no part of it may
 * be used either.
 */
function leftOut({ name, head }: DxfBlock, errors: readonly Finding[]): Finding {
  const first = errors.find(({ severity }) => severity === 'error')!;
  return {
    severity: 'warning',
    rule: 'block-left-out',
    message: `Block ${name} is not placed in the drawing and is left out: ${first.message}`,
    todo: `Nothing to do unless a piece is drawn in it. ${first.todo}`,
    where: { line: head.line },
  };
}

/** Runs `read`, and adds the name of the file to all findings. */
function inFile(file: string, read: () => Drawing): Drawing {
  const named = (findings: readonly Finding[]): Finding[] =>
    findings.map((finding) => ({ ...finding, where: { file, ...finding.where } }));
  try {
    const drawing = read();
    return { ...drawing, findings: named(drawing.findings) };
  } catch (error) {
    throw error instanceof Refusal ? new Refusal(named(error.findings)) : error;
  }
}
