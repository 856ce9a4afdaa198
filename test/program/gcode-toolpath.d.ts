/** The package carries no types; these are the parts of it that the tests use. */
declare module 'gcode-toolpath' {
  interface Vector {
    readonly x: number;
    readonly y: number;
    readonly z: number;
  }
  interface Modal {
    readonly motion: string;
  }
  export default class GcodeToolpath {
    constructor(options: {
      addLine: (modal: Modal, from: Vector, to: Vector) => void;
      addArcCurve: (modal: Modal, from: Vector, to: Vector, centre: Vector) => void;
    });
    loadFromStringSync(text: string): void;
  }
}
