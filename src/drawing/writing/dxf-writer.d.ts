/**
 * Types for the part of the package that is used. The package's own types lack bulges and the count of
 * handles. It writes numbers as it is given them, so here they are texts, made by decimal().
 */
declare module 'dxf-writer/src/Drawing.js' {
  export default class Drawing {
    setUnits(unit: 'Millimeters'): this;
    header(variable: string, values: readonly (readonly [code: number, value: string])[]): this;
    addLayer(name: string, colour: number, lineType: string): this;
    setActiveLayer(name: string): this;
    drawPoint(x: string, y: string): this;
    drawPolyline(
      points: readonly (readonly [x: string, y: string, bulge: string])[],
      closed: boolean,
    ): this;
    drawText(x: string, y: string, height: string, deg: string, text: string): this;
    toDxfString(): string;
  }
}

declare module 'dxf-writer/src/Handle.js' {
  const Handle: { seed: number };
  export default Handle;
}
