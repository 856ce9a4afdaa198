import type { Entity } from '../drawing/drawing.ts';

/** What the texts on a piece say about it, in the words of ASTM D6673 in upper or lower case. */
export interface Labels {
  readonly name?: string;
  readonly material?: string;
  /** How many are cut for the right and how many for the left. A single number counts for the right. */
  readonly quantity?: { readonly right: number; readonly left: number };
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
  const counts = /^(\d+)(?:\s*,\s*(\d+))?$/.exec(valueOf(/^\s*quantity\s*:(.*)$/i) ?? '');
  const quantity = counts && { right: Number(counts[1]), left: Number(counts[2] ?? 0) };
  return { ...(name && { name }), ...(material && { material }), ...(quantity && { quantity }) };
}

/** Whether a text is a `Label: value` line, and not a name that stands for itself. */
export function isLabel(text: string): boolean {
  return /^[\p{L} ]+:/u.test(text.trim());
}
