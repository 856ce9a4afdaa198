/** A mark of the ruler: where it is along the roll, mm, and its figure (null: it has none). */
interface RulerMark {
  readonly at: number;
  readonly figure: string | null;
}

/** How far figures may be apart, and the marks between them, mm. */
const steps: readonly (readonly [figures: number, marks: number])[] = [
  [10, 1],
  [50, 10],
  [100, 10],
  [500, 100],
  [1000, 100],
  [2000, 500],
  [5000, 1000],
  [10_000, 1000],
  [50_000, 10_000],
  [100_000, 10_000],
];

/**
 * The marks for a stretch of the roll. At this scale (pixels to a mm) figures are no closer together
 * than `apart` pixels.
 */
export function rulerMarks(from: number, to: number, scale: number, apart: number): RulerMark[] {
  const [figures, marks] = steps.find(([step]) => step * scale >= apart) ?? steps.at(-1)!;
  const found: RulerMark[] = [];
  for (let i = Math.max(0, Math.ceil(from / marks)); i * marks <= to; i++) {
    const at = i * marks;
    found.push({ at, figure: at % figures === 0 ? metres(at, figures) : null });
  }
  return found;
}

function metres(mm: number, step: number): string {
  const digits = step >= 1000 ? 0 : step >= 100 ? 1 : 2;
  return `${(mm / 1000).toFixed(digits)} m`;
}
