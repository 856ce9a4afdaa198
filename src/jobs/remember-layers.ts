import { existsSync } from 'node:fs';
import { isMap, parseDocument } from 'yaml';
import type { Finding } from '../base/findings.ts';
import { errorFinding, Refusal } from '../base/findings.ts';
import { readText } from '../base/yaml.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { ownLayers } from '../pattern/layers.ts';
import { customerFile, readCustomerLayers } from '../pattern/shop/customer.ts';
import { publishFile } from '../publishing/publish-file.ts';

/**
 * Adds to the file of a customer what layers mean in all drawings of theirs; comments and all else there
 * stay. What stands there is never changed, because sets may go by it: throws a Refusal where it says
 * otherwise, and where the file cannot be read or written.
 */
export function rememberLayers(
  sharedFolder: string,
  customer: string | undefined,
  layers: LayerMap,
): void {
  if (customer === undefined || layers.size === 0) return;
  const file = customerFile(sharedFolder, customer);
  const known = ownLayers(new Map(), readCustomerLayers(sharedFolder, customer));
  const other = [...layers].filter(
    ([layer, means]) => known.has(layer) && known.get(layer)!.toUpperCase() !== means,
  );
  if (other.length > 0)
    throw new Refusal(other.map(([layer]) => saidOtherwise(layer, known, file)));
  const isThere = existsSync(file);
  const document = parseDocument(isThere ? readText(file, 'customer file') : '');
  if (!isThere) {
    document.commentBefore = ` What layers mean in all drawings by ${customer}, before what shared/layers.yaml says.`;
  }
  if (!isMap(document.get('layers'))) document.set('layers', document.createNode({}));
  for (const [layer, means] of layers) {
    if (!known.has(layer)) document.setIn(['layers', layer], means);
  }
  publishFile(file, document.toString({ lineWidth: 0 }));
}

function saidOtherwise(layer: string, known: LayerMap, file: string): Finding {
  return errorFinding(
    'customer-layer',
    `layer ${layer} is ${known.get(layer)!} in all drawings of this customer, as this file says.`,
    'Let this answer hold for this drawing alone, or correct the file: every set that names this customer goes by it.',
    { file },
  );
}
