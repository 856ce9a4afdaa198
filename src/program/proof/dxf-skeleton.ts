import type { Cutter } from '../../knife/cutter.ts';

/**
 * What a cutter's drawing has besides what is drawn, by the DXF reference: one text for each record,
 * with its type and its groups. `5` and the other groups of handles stand without a value, as do
 * coordinates.
 */
interface DxfSkeleton {
  /** The records before the first entity. */
  readonly before: readonly string[];
  /** The records after the last entity. */
  readonly after: readonly string[];
  /** For each type of entity, what its groups must be, as a pattern. */
  readonly entities: Readonly<Record<string, RegExp>>;
}

/** The layers of a cutter's drawing, and the colours in which they are shown. */
const layers: readonly (readonly [name: string, colour: number])[] = [
  ['0', 7],
  ['CUT', 1],
  ['CUT-INNER', 6],
  ['NOTCH', 3],
  ['PUNCH', 4],
  ['MARK', 8],
  ['LABEL', 7],
];

const corners = '9=$EXTMIN 10 20 30=0 9=$EXTMAX 10 20 30=0';

const r12: DxfSkeleton = {
  before: [
    `SECTION 2=HEADER 9=$ACADVER 1=AC1009 ${corners}`,
    'ENDSEC',
    'SECTION 2=TABLES',
    'TABLE 2=LTYPE 70=1',
    'LTYPE 2=CONTINUOUS 70=0 3=Solid line 72=65 73=0 40=0',
    'ENDTAB',
    'TABLE 2=LAYER 70=7',
    ...layers.map(([name, colour]) => `LAYER 2=${name} 70=0 62=${colour} 6=CONTINUOUS`),
    'ENDTAB',
    'TABLE 2=STYLE 70=1',
    'STYLE 2=STANDARD 70=0 40=0 41=1 50=0 71=0 42=2.5 3=txt',
    'ENDTAB',
    'ENDSEC',
    'SECTION 2=BLOCKS',
    'ENDSEC',
    'SECTION 2=ENTITIES',
  ],
  after: ['ENDSEC', 'EOF'],
  entities: {
    LINE: /^8 10 20 30=0 11 21 31=0$/,
    POINT: /^8 10 20 30=0$/,
    POLYLINE: /^8 66=1 10 20 30=0 70=[01]$/,
    VERTEX: /^8 10 20 30=0(?: 42)?$/,
    SEQEND: /^8$/,
    TEXT: /^8 10 20 30=0 40 1 50=0$/,
  },
};

const table = (name: string, count: number): string =>
  `TABLE 2=${name} 5 330 100=AcDbSymbolTable 70=${count}`;
const entry = (kind: string, recordClass: string, groups: string): string =>
  `${kind} 5 330 100=AcDbSymbolTableRecord 100=${recordClass} ${groups}`;
const space = (name: string): string[] => [
  `BLOCK 5 330 100=AcDbEntity 8=0 100=AcDbBlockBegin 2=${name} 70=0 10=0 20=0 30=0 3=${name} 1=`,
  'ENDBLK 5 330 100=AcDbEntity 8=0 100=AcDbBlockEnd',
];
const begun = '5 330 100=AcDbEntity 8';

const r2007: DxfSkeleton = {
  before: [
    `SECTION 2=HEADER 9=$ACADVER 1=AC1021 9=$HANDSEED 5 9=$INSUNITS 70=4 9=$MEASUREMENT 70=1 ${corners}`,
    'ENDSEC',
    'SECTION 2=CLASSES',
    'ENDSEC',
    'SECTION 2=TABLES',
    table('VPORT', 1),
    entry('VPORT', 'AcDbViewportTableRecord', '2=*ACTIVE 70=0 40=1000'),
    'ENDTAB',
    table('LTYPE', 3),
    ...['ByBlock', 'ByLayer', 'Continuous'].map((name) =>
      entry('LTYPE', 'AcDbLinetypeTableRecord', `2=${name} 70=0 3= 72=65 73=0 40=0`),
    ),
    'ENDTAB',
    table('LAYER', layers.length),
    ...layers.map(([name, colour]) =>
      entry('LAYER', 'AcDbLayerTableRecord', `2=${name} 70=0 62=${colour} 6=Continuous 390`),
    ),
    'ENDTAB',
    table('STYLE', 1),
    entry(
      'STYLE',
      'AcDbTextStyleTableRecord',
      '2=Standard 70=0 40=0 41=1 50=0 71=0 42=2.5 3=txt 4=',
    ),
    'ENDTAB',
    table('VIEW', 0),
    'ENDTAB',
    table('UCS', 0),
    'ENDTAB',
    table('APPID', 1),
    entry('APPID', 'AcDbRegAppTableRecord', '2=ACAD 70=0'),
    'ENDTAB',
    `${table('DIMSTYLE', 0)} 100=AcDbDimStyleTable`,
    'ENDTAB',
    table('BLOCK_RECORD', 2),
    entry('BLOCK_RECORD', 'AcDbBlockTableRecord', '2=*Model_Space'),
    entry('BLOCK_RECORD', 'AcDbBlockTableRecord', '2=*Paper_Space'),
    'ENDTAB',
    'ENDSEC',
    'SECTION 2=BLOCKS',
    ...space('*Model_Space'),
    ...space('*Paper_Space'),
    'ENDSEC',
    'SECTION 2=ENTITIES',
  ],
  after: [
    'ENDSEC',
    'SECTION 2=OBJECTS',
    'DICTIONARY 5 330 100=AcDbDictionary 281=1 3=ACAD_GROUP 350 3=ACAD_PLOTSTYLENAME 350',
    'DICTIONARY 5 330 100=AcDbDictionary 281=1',
    'ACDBDICTIONARYWDFLT 5 330 100=AcDbDictionary 281=1 3=Normal 350 100=AcDbDictionaryWithDefault 340',
    'ACDBPLACEHOLDER 5 330',
    'ENDSEC',
    'EOF',
  ],
  entities: {
    POINT: new RegExp(`^${begun} 100=AcDbPoint 10 20 30=0$`),
    LWPOLYLINE: new RegExp(`^${begun} 100=AcDbPolyline 90 70=[01](?: 10 20(?: 42)?)+$`),
    TEXT: new RegExp(`^${begun} 100=AcDbText 10 20 30=0 40 1 50=0 100=AcDbText$`),
  },
};

/** What the drawing of a cutter must have besides what is drawn. */
export function skeletonFor({ dxf }: Cutter): DxfSkeleton {
  return dxf === 'r12' ? r12 : r2007;
}
