/** A key that was pressed, with as much of the event as matters here. */
interface Pressed {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
}

/** What a key asks for. A nudge is in mm on the roll, a pan in shares of the window. */
export type KeyAct =
  | { readonly what: 'walk'; readonly by: 1 | -1 }
  | { readonly what: 'select'; readonly add: boolean }
  | { readonly what: 'zoom'; readonly factor: number }
  | { readonly what: 'fit' | 'drop' | 'back' | 'leave' }
  | { readonly what: 'pan' | 'nudge'; readonly x: number; readonly y: number }
  | { readonly what: 'turn'; readonly quarter: boolean };

/**
 * Whether the walk by keyboard has come to a part, whether parts can be moved, and whether one is being
 * moved.
 */
interface KeyState {
  readonly focused: boolean;
  readonly movable: boolean;
  readonly holding: boolean;
}

/** The factor by which Plus and Minus and their buttons zoom. */
export const zoomStep = 1.4;
const panStep = 0.15;

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** What a key asks for; null: nothing, and the browser may do with it what it likes. */
export function keyAct(pressed: Pressed, state: KeyState): KeyAct | null {
  const { key, shiftKey, ctrlKey, metaKey } = pressed;
  if (ctrlKey || metaKey) return null;
  const arrow = arrows[key];
  if (arrow !== undefined) return arrowAct(pressed, arrow, state);
  const { focused, movable, holding } = state;
  if (key === '+' || key === '=') return { what: 'zoom', factor: zoomStep };
  if (key === '-' || key === '_') return { what: 'zoom', factor: 1 / zoomStep };
  if (key === '0') return { what: 'fit' };
  if (key === 'Escape') return holding ? { what: 'back' } : focused ? { what: 'leave' } : null;
  if (key.toLowerCase() === 'r' && movable && (focused || holding)) {
    return { what: 'turn', quarter: shiftKey };
  }
  if (holding) return key === 'Enter' ? { what: 'drop' } : null;
  if (key === 'n' || key === 'PageDown') return { what: 'walk', by: 1 };
  if (key === 'p' || key === 'PageUp') return { what: 'walk', by: -1 };
  if ((key === 'Enter' || key === ' ') && focused) return { what: 'select', add: shiftKey };
  return null;
}

function arrowAct(
  { shiftKey, altKey }: Pressed,
  [x, y]: readonly [number, number],
  { focused, movable, holding }: KeyState,
): KeyAct {
  if (!(movable && (focused || holding))) return { what: 'pan', x: panStep * x, y: panStep * y };
  const step = shiftKey ? 1 : altKey ? 100 : 10;
  return { what: 'nudge', x: step * x, y: step * y };
}
