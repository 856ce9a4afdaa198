import type { SeamFitView, SeamView } from '../../../../drafting/seam-view.ts';
import { counted } from '../../words.ts';

/** How two edges of a seam fit, in one line. */
export function fitWords({ difference, ease, isLengthSound, met, unmet }: SeamFitView): string {
  const off = Math.abs(difference).toFixed(1);
  const lengths =
    off === '0.0'
      ? 'of one length'
      : isLengthSound
        ? `${off} mm apart, which is eased in (${ease} mm may be)`
        : `${off} mm apart: too much (${ease} mm may be eased in)`;
  const notches =
    met.length + unmet.length === 0
      ? 'no notches'
      : unmet.length === 0
        ? `${counted(met.length, 'notch', 'notches')} meet`
        : `${counted(unmet.length, 'notch', 'notches')} without a counterpart`;
  return `${lengths}; ${notches}`;
}

/** Whether a seam fits, in a word that stands before it. */
export function verdictOf({ fits, findings }: SeamView): 'Fits' | 'Look' {
  const isSound =
    fits.length > 0 && fits.every((one) => one.isLengthSound && one.unmet.length === 0);
  return isSound && findings.every(({ severity }) => severity === 'note') ? 'Fits' : 'Look';
}

/** A seam from the side of a piece: the same, with that piece's edge first. */
export function seenFrom(seam: SeamView, piece: string): SeamView {
  const [first] = seam.join;
  if (first.split('/')[0] === piece) return seam;
  return {
    ...seam,
    join: swapped(seam.join),
    fits: seam.fits.map((fit) => ({
      ...fit,
      lengths: swapped(fit.lengths),
      difference: -fit.difference,
      begin: swapped(fit.begin),
      met: fit.met.map((one) => ({ ...one, at: swapped(one.at) })),
      unmet: fit.unmet.map(({ edge, at }) => ({ edge: edge === 0 ? 1 : 0, at: swapped(at) })),
    })),
  };
}

function swapped<T>([first, second]: readonly [T, T]): readonly [T, T] {
  return [second, first];
}
