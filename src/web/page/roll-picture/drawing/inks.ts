/** Colours and type of the picture, as the style sheets give them just now. */
export interface Inks {
  readonly ground: string;
  readonly strip: string;
  /** Cloth that stays on the roll. */
  readonly cloth: string;
  /** Cloth between parts. */
  readonly waste: string;
  readonly part: string;
  /** Parts of one order after the other, if they are told apart. */
  readonly orders: readonly string[];
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
    waste: read('--cloth-waste'),
    part: read('--cloth-part'),
    orders: Array.from({ length: 8 }, (_, i) => read(`--order-${i}`)),
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

/** The colour of an order's parts. Where there are more orders than colours, they begin again. */
export function orderInk(
  { orders: inks, part }: Inks,
  orders: readonly string[],
  order: string,
): string {
  return inks[Math.max(0, orders.indexOf(order)) % inks.length] ?? part;
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
