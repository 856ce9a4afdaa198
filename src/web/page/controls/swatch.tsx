import type { JSX } from 'preact';

/** A small patch of a colour. The word for it stands beside it, so it says nothing by itself. */
export function Swatch({ sample }: { sample: string | null }): JSX.Element | null {
  if (sample === null) return null;
  return <span class="colour-swatch" style={{ background: sample }} aria-hidden="true" />;
}
