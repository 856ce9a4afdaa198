import type { Path } from '../../geometry/paths/path.ts';
import type { Entity, TextEntity } from '../drawing.ts';
import { boxOfEntities } from '../extents.ts';
import { encodeText } from '../tags/text-codes.ts';
import type { NamedLayer } from './named-layers.ts';
import { checkLayers, withLayerZero } from './named-layers.ts';
import { textLines } from './text-lines.ts';
import type { WrittenTag } from './written-tags.ts';
import { bulgeTags, pointTags, section, quantity, textOfTags } from './written-tags.ts';

/**
 * Writes a DXF of version AC1021 (2007): ASCII, LF, in mm, all entities in model space and in the given
 * order. A path becomes an LWPOLYLINE with bulges, a path of one vertex a POINT, and each line of a text
 * a TEXT. The same input gives the same bytes. Throws RangeError if a number is not finite, a path has no
 * length, DXF does not allow a name, or a layer is missing.
 *
 * Since R13 every table, entry, block and entity has a handle, names its owner's handle in group 330, and
 * lists its classes in group 100. The tables, blocks and dictionaries that readers expect stand in the
 * file even if they are empty. All this is by the DXF reference.
 */
export function writeR2007(entities: readonly Entity[], layers: readonly NamedLayer[]): string {
  checkLayers(layers, entities);
  const handles = handlesFrom(1);
  const modelSpace = handles.next();
  const paperSpace = handles.next();
  const plotStyle = handles.next();
  const tables = tableTags(layers, handles, { modelSpace, paperSpace, plotStyle });
  const blocks = [
    ...blockTags('*Model_Space', modelSpace, handles),
    ...blockTags('*Paper_Space', paperSpace, handles),
  ];
  const drawn = entities.flatMap((entity) => entityTags(entity, modelSpace, handles));
  const objects = dictionaryTags(handles, plotStyle);
  const tags: WrittenTag[] = [
    ...section('HEADER', headerTags(entities, handles.next())),
    ...section('CLASSES', []),
    ...section('TABLES', tables),
    ...section('BLOCKS', blocks),
    ...section('ENTITIES', drawn),
    ...section('OBJECTS', objects),
    [0, 'EOF'],
  ];
  return textOfTags(tags, false);
}

/** Gives handles: hexadecimal numbers, each used once in a file. 0 means none. */
interface Handles {
  readonly next: () => string;
}

function handlesFrom(first: number): Handles {
  let number = first;
  return { next: () => (number++).toString(16).toUpperCase() };
}

/** The header. `free` is a handle that nothing in the file has. */
function headerTags(entities: readonly Entity[], free: string): WrittenTag[] {
  const { minX, minY, maxX, maxY } = boxOfEntities(entities);
  const corners: WrittenTag[] =
    minX === Infinity
      ? []
      : [
          [9, '$EXTMIN'],
          ...pointTags({ x: minX, y: minY }),
          [9, '$EXTMAX'],
          ...pointTags({ x: maxX, y: maxY }),
        ];
  return [
    [9, '$ACADVER'],
    [1, 'AC1021'],
    [9, '$HANDSEED'],
    [5, free],
    [9, '$INSUNITS'],
    [70, '4'],
    [9, '$MEASUREMENT'],
    [70, '1'],
    ...corners,
  ];
}

interface Owners {
  readonly modelSpace: string;
  readonly paperSpace: string;
  readonly plotStyle: string;
}

/** An entry of a table. `handle` is given if others refer to it. */
interface TableEntry {
  readonly kind: string;
  readonly recordClass: string;
  readonly tags: readonly WrittenTag[];
  readonly handle?: string;
}

function tableTags(
  layers: readonly NamedLayer[],
  handles: Handles,
  { modelSpace, paperSpace, plotStyle }: Owners,
): WrittenTag[] {
  const table = (name: string, entries: readonly TableEntry[]): WrittenTag[] =>
    tableOf(name, entries, handles);
  return [
    ...table('VPORT', [
      entry('VPORT', 'AcDbViewportTableRecord', [
        [2, '*ACTIVE'],
        [70, '0'],
        [40, '1000'],
      ]),
    ]),
    ...table('LTYPE', ['ByBlock', 'ByLayer', 'Continuous'].map(lineType)),
    ...table(
      'LAYER',
      withLayerZero(layers).map(({ name, colour }) =>
        entry('LAYER', 'AcDbLayerTableRecord', [
          [2, name],
          [70, '0'],
          [62, String(colour)],
          [6, 'Continuous'],
          [390, plotStyle],
        ]),
      ),
    ),
    ...table('STYLE', [
      entry('STYLE', 'AcDbTextStyleTableRecord', [
        [2, 'Standard'],
        [70, '0'],
        [40, '0'],
        [41, '1'],
        [50, '0'],
        [71, '0'],
        [42, '2.5'],
        [3, 'txt'],
        [4, ''],
      ]),
    ]),
    ...table('VIEW', []),
    ...table('UCS', []),
    ...table('APPID', [
      entry('APPID', 'AcDbRegAppTableRecord', [
        [2, 'ACAD'],
        [70, '0'],
      ]),
    ]),
    ...table('DIMSTYLE', []),
    ...table('BLOCK_RECORD', [
      space('*Model_Space', modelSpace),
      space('*Paper_Space', paperSpace),
    ]),
  ];
}

function entry(kind: string, recordClass: string, tags: readonly WrittenTag[]): TableEntry {
  return { kind, recordClass, tags };
}

function lineType(name: string): TableEntry {
  return entry('LTYPE', 'AcDbLinetypeTableRecord', [
    [2, name],
    [70, '0'],
    [3, ''],
    [72, '65'],
    [73, '0'],
    [40, '0'],
  ]);
}

function space(name: string, handle: string): TableEntry {
  return { ...entry('BLOCK_RECORD', 'AcDbBlockTableRecord', [[2, name]]), handle };
}

function tableOf(name: string, entries: readonly TableEntry[], handles: Handles): WrittenTag[] {
  const own = handles.next();
  return [
    [0, 'TABLE'],
    [2, name],
    [5, own],
    [330, '0'],
    [100, 'AcDbSymbolTable'],
    [70, String(entries.length)],
    ...(name === 'DIMSTYLE' ? [[100, 'AcDbDimStyleTable'] as const] : []),
    ...entries.flatMap(({ kind, recordClass, tags, handle }): WrittenTag[] => [
      [0, kind],
      [5, handle ?? handles.next()],
      [330, own],
      [100, 'AcDbSymbolTableRecord'],
      [100, recordClass],
      ...tags,
    ]),
    [0, 'ENDTAB'],
  ];
}

/**
 * The block of model space or of paper space. It is empty: what is drawn in model space stands among the
 * entities.
 */
function blockTags(name: string, record: string, handles: Handles): WrittenTag[] {
  return [
    [0, 'BLOCK'],
    [5, handles.next()],
    [330, record],
    [100, 'AcDbEntity'],
    [8, '0'],
    [100, 'AcDbBlockBegin'],
    [2, name],
    [70, '0'],
    ...pointTags({ x: 0, y: 0 }),
    [3, name],
    [1, ''],
    [0, 'ENDBLK'],
    [5, handles.next()],
    [330, record],
    [100, 'AcDbEntity'],
    [8, '0'],
    [100, 'AcDbBlockEnd'],
  ];
}

/** The root dictionary, with an empty dictionary of groups and the plot style that all layers have. */
function dictionaryTags(handles: Handles, plotStyle: string): WrittenTag[] {
  const root = handles.next();
  const groups = handles.next();
  const plotStyles = handles.next();
  const dictionary = (handle: string, owner: string): WrittenTag[] => [
    [0, 'DICTIONARY'],
    [5, handle],
    [330, owner],
    [100, 'AcDbDictionary'],
    [281, '1'],
  ];
  return [
    ...dictionary(root, '0'),
    [3, 'ACAD_GROUP'],
    [350, groups],
    [3, 'ACAD_PLOTSTYLENAME'],
    [350, plotStyles],
    ...dictionary(groups, root),
    [0, 'ACDBDICTIONARYWDFLT'],
    [5, plotStyles],
    [330, root],
    [100, 'AcDbDictionary'],
    [281, '1'],
    [3, 'Normal'],
    [350, plotStyle],
    [100, 'AcDbDictionaryWithDefault'],
    [340, plotStyle],
    [0, 'ACDBPLACEHOLDER'],
    [5, plotStyle],
    [330, plotStyles],
  ];
}

function entityTags(entity: Entity, owner: string, handles: Handles): WrittenTag[] {
  const begin = (kind: string, ownClass: string): WrittenTag[] => [
    [0, kind],
    [5, handles.next()],
    [330, owner],
    [100, 'AcDbEntity'],
    [8, entity.layer],
    [100, ownClass],
  ];
  switch (entity.kind) {
    case 'point':
      return [...begin('POINT', 'AcDbPoint'), ...pointTags(entity.at)];
    case 'text':
      return textLines(entity).flatMap((line) => textTags(line, begin('TEXT', 'AcDbText')));
    case 'path': {
      const [first, second] = entity.path.vertices;
      if (first !== undefined && second === undefined && !entity.path.closed) {
        return [...begin('POINT', 'AcDbPoint'), ...pointTags(first)];
      }
      return pathTags(entity.path, begin('LWPOLYLINE', 'AcDbPolyline'));
    }
  }
}

function pathTags({ closed, vertices }: Path, begin: readonly WrittenTag[]): WrittenTag[] {
  if (vertices.length < 2) throw new RangeError('a path without a course cannot be drawn');
  return [
    ...begin,
    [90, String(vertices.length)],
    [70, closed ? '1' : '0'],
    ...vertices.flatMap((vertex): WrittenTag[] => [
      ...pointTags(vertex).slice(0, 2),
      ...bulgeTags(vertex.bulge),
    ]),
  ];
}

/**
 * A TEXT. The class AcDbText is listed twice: the groups after the first are about the text, those after
 * the second about how it stands across its line.
 */
function textTags(
  { at, height, deg, text }: TextEntity,
  begin: readonly WrittenTag[],
): WrittenTag[] {
  return [
    ...begin,
    ...pointTags(at),
    [40, quantity(height)],
    [1, encodeText(text)],
    [50, quantity(deg)],
    [100, 'AcDbText'],
  ];
}
