/** A drawing in R12, changed number by number: a transformation that shares nothing with what reads drawings. */
export interface DxfChange {
  readonly x?: (x: number, y: number) => number;
  readonly y?: (x: number, y: number) => number;
  readonly bulge?: (bulge: number) => number;
  /** Whether places of blocks are changed too, not only what is drawn in them. */
  readonly places?: boolean;
  /** Only so many polylines, counted from the end of the file backwards, are left as they were. */
  readonly keep?: (entity: number) => boolean;
}

const drawn = new Set(['VERTEX', 'LINE', 'POINT', 'TEXT', 'CIRCLE']);

export function changedDxf(
  text: string,
  { x = (a) => a, y = (_, b) => b, bulge = (b) => b, places = false, keep }: DxfChange,
): string {
  const lines = text.split('\n');
  let entity = '';
  let count = -1;
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = lines[i]!.trim();
    if (code === '0') {
      entity = lines[i + 1]!.trim();
      if (entity === 'POLYLINE') count++;
    }
    if (!drawn.has(entity) && !(places && entity === 'INSERT')) continue;
    if (entity === 'VERTEX' && keep?.(count) === true) continue;
    if (code === '42' && entity === 'VERTEX') lines[i + 1] = String(bulge(Number(lines[i + 1])));
    if (code !== '10' && code !== '11') continue;
    const [a, b] = [Number(lines[i + 1]), Number(lines[i + 3])];
    lines[i + 1] = String(x(a, b));
    lines[i + 3] = String(y(a, b));
  }
  return lines.join('\n');
}
