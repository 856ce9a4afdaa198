import type { Finding } from '../../base/findings.ts';
import { errorFinding, Refusal } from '../../base/findings.ts';
import { shownNames } from '../../base/wording.ts';
import type { Drawing } from '../../drawing/drawing.ts';
import type { LayerMap } from '../layers.ts';
import { whyNotMeaning } from '../layers.ts';

/** What somebody has said of layers of a drawing, one by one: the layer, and ROLE or ROLE-FOLLOWS. */
export type SaidOfLayers = readonly (readonly [layer: string, means: string])[];

/** The layers of all that is drawn in a drawing, each once. */
export function drawnLayers({ entities, blocks }: Drawing): string[] {
  const all = [...entities, ...blocks.flatMap((block) => block.entities)];
  return [...new Set(all.map(({ layer }) => layer))];
}

/**
 * What was said of layers, by the layer in upper case. Throws a Refusal that names each layer which the
 * drawing does not have, what nothing can mean, and what is said in two ways.
 */
export function layerAnswers(said: SaidOfLayers, layers: readonly string[]): LayerMap {
  const known = new Set(layers.map((layer) => layer.toUpperCase()));
  const answers = new Map<string, string>();
  const findings: Finding[] = [];
  for (const [layer, words] of said) {
    const [own, means] = [layer.toUpperCase(), words.toUpperCase()];
    const before = answers.get(own);
    const why = whyNotMeaning(layer, means);
    if (!known.has(own)) findings.push(noSuchLayer(layer, layers));
    else if (why !== null) {
      findings.push(
        errorFinding('layer-answer', `${why}.`, 'Say something else of it, or nothing.'),
      );
    } else if (before !== undefined && before !== means) {
      const message = `layer ${layer} is said to be ${before} and ${means}.`;
      findings.push(errorFinding('layer-answer', message, 'Say one of them.'));
    }
    // A layer that is named for its role needs no answer.
    if (own !== means) answers.set(own, means);
  }
  if (findings.length > 0) throw new Refusal(findings);
  return answers;
}

function noSuchLayer(layer: string, layers: readonly string[]): Finding {
  const message = `nothing is drawn on a layer "${layer}".`;
  return errorFinding('layer-answer', message, `There are: ${shownNames(layers, 20)}.`);
}
