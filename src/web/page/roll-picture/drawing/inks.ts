/** Colours and type of the picture, as the style sheets give them just now. */
export interface Inks {
  readonly ground: string;
  readonly strip: string;
  readonly cloth: string;
  readonly part: string;
  readonly ink: string;
  readonly soft: string;
  readonly line: string;
  readonly faint: string;
  readonly accent: string;
  readonly refused: string;
  readonly family: string;
  /** The height of the small type, pixels. */
  readonly type: number;
}

/**
 * Reads colours and type off an element: its own font, and the custom properties that it inherits.
 */
export function inksOf(element: Element): Inks {
  const style = getComputedStyle(element);
  const read = (name: string): string => style.getPropertyValue(name).trim();
  return {
    ground: read('--well'),
    strip: read('--paper'),
    cloth: read('--cloth'),
    part: read('--cloth-part'),
    ink: read('--ink'),
    soft: read('--ink-soft'),
    line: read('--line'),
    faint: read('--line-soft'),
    accent: read('--accent'),
    refused: read('--refused'),
    family: style.fontFamily,
    type: Math.round(Number.parseFloat(style.fontSize)),
  };
}

/** Calls `act` whenever the page goes from light to dark or back. Returns what ends it. */
export function onThemeChange(act: () => void): () => void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const watch = new MutationObserver(act);
  watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
  dark.addEventListener('change', act);
  return () => {
    watch.disconnect();
    dark.removeEventListener('change', act);
  };
}
