import type { Entity } from '../drawing/drawing.ts';

/** What the texts on a piece say about it, in the words of ASTM D6673 in upper or lower case. */
export interface Labels {
  readonly name?: string;
  readonly material?: string;
  /**
   * How many are cut for the right and how many for the left. A single number counts for the right, and says
   * nothing of sides.
   */
  readonly quantity?: {
    readonly right: number;
    readonly left: number;
    readonly saysSides: boolean;
  };
}

/** Reads the labels among the texts of a piece. */
export function labelsOf(entities: readonly Entity[]): Labels {
  const lines = entities.flatMap((entity) =>
    entity.kind === 'text' ? entity.text.split('\n') : [],
  );
  const valueOf = (label: RegExp): string | undefined => {
    const found = lines.map((line) => label.exec(line)?.[1]?.trim()).find((value) => value);
    return found === '' ? undefined : found;
  };
  const name = valueOf(/^\s*piece\s+name\s*:(.*)$/i);
  const material = valueOf(/^\s*material\s*:(.*)$/i);
  const quantity = quantityIn(valueOf(/^\s*quantity\s*:(.*)$/i) ?? '');
  return { ...(name && { name }), ...(material && { material }), ...(quantity && { quantity }) };
}

/** What is said behind `Quantity:`; null: it is no number, and no two for right and left. */
function quantityIn(text: string): Labels['quantity'] | null {
  const counts = /^(\d+)(?:\s*,\s*(\d+))?$/.exec(text.trim());
  if (counts === null) return null;
  const [, right, left] = counts;
  return { right: Number(right), left: Number(left ?? 0), saysSides: left !== undefined };
}

/** Whether a line is a quantity that can be read. */
export function isQuantity(line: string): boolean {
  const said = /^\s*quantity\s*:(.*)$/i.exec(line)?.[1];
  return said !== undefined && quantityIn(said) !== null;
}

/** Whether a text is a `Label: value` line, and not a name that stands for itself. */
export function isLabel(text: string): boolean {
  return /^[\p{L} ]+:/u.test(text.trim());
}
