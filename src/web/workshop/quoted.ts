import { existsSync, realpathSync } from 'node:fs';
import { relative, resolve, sep } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import type { Workshop } from './workshop.ts';

/**
 * Whether a file lies in one of the workshop's folders, also where links lead. What is not there lies
 * where its name says.
 */
function isInWorkshop({ patterns, shared, out }: Workshop, file: string): boolean {
  const place = existsSync(file) ? realpathSync(file) : resolve(file);
  return [patterns, shared, out].some((folder) => {
    const inside = existsSync(folder) ? realpathSync(folder) : resolve(folder);
    return place === inside || place.startsWith(inside + sep);
  });
}

/**
 * A finding as the page may show it: its file named by the way from the workshop, and nothing quoted from
 * a file that lies elsewhere, because a link may lead to what nobody meant to show.
 */
export function quotable(finding: Finding, shop: Workshop): Finding {
  const { file, ...where } = finding.where;
  if (file === undefined) return finding;
  const root = resolve(shop.patterns, '..');
  const name = file.startsWith(root + sep) ? relative(root, file) : file;
  if (isInWorkshop(shop, file) || file === root) {
    return { ...finding, where: { ...where, file: name } };
  }
  return {
    severity: finding.severity,
    rule: 'outside',
    message: 'this leads out of the workshop, so what is wrong there is not shown.',
    todo: 'Put the file itself here, not a link or a way to it.',
    where: { file: name },
  };
}
