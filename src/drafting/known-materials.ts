import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Place } from '../base/findings.ts';
import type { Material } from '../pattern/shop/material.ts';
import { readKnownMaterials } from '../pattern/shop/material.ts';

/** Materials as they were read last, by their files, each with the state of the file. */
const known = new Map<string, { readonly stamp: string; readonly material: Material | null }>();

/** A material of the shop. null: there is none of that name that can be read. It is read again if its file changed. */
export function knownMaterial(sharedFolder: string, name: string, namedAt: Place): Material | null {
  const file = join(sharedFolder, 'materials', `${name}.yaml`);
  const stamp = stampOf(file);
  const before = known.get(file);
  if (before?.stamp === stamp) return before.material;
  const { materials } = readKnownMaterials(new Map([[name, namedAt]]), sharedFolder);
  const material = materials.get(name) ?? null;
  known.set(file, { stamp, material });
  return material;
}

function stampOf(file: string): string {
  if (!existsSync(file)) return 'none';
  const { mtimeMs, size } = statSync(file);
  return `${mtimeMs} ${size}`;
}
