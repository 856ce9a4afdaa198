/**
 * What is used of the package. Its own types know nothing of bulges, nor of its count of handles, nor
 * that it puts into the file whatever it is given: numbers go to it as text, worded by decimal().
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
