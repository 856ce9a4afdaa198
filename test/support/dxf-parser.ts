import { createRequire } from 'node:module';

/** A drawing as dxf-parser has it, as far as tests ask. */
export interface ParsedDxf {
  readonly header: Readonly<Record<string, unknown>>;
  readonly tables: {
    readonly layer: { readonly layers: Readonly<Record<string, { readonly colorIndex: number }>> };
  };
  readonly entities: readonly ParsedEntity[];
}

interface ParsedEntity {
  readonly type: string;
  readonly layer: string;
  readonly shape?: boolean;
  readonly vertices?: readonly {
    readonly x: number;
    readonly y: number;
    readonly bulge?: number;
  }[];
  readonly position?: { readonly x: number; readonly y: number };
}

/** Its own types describe another kind of module than it is. */
const DxfParser = createRequire(import.meta.url)('dxf-parser') as new () => {
  parseSync(text: string): ParsedDxf;
};

/** Reads a drawing with dxf-parser, which knows nothing of this product. */
export function parsedDxf(text: string): ParsedDxf {
  return new DxfParser().parseSync(text);
}
