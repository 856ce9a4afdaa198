import { relative, resolve, sep } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import type { Workshop } from './workshop.ts';
import { liesIn } from './workshop.ts';

/**
 * A finding as the page may show it: its file named by the way from the workshop, and nothing quoted from
 * a file that lies elsewhere, because a link may lead to what nobody meant to show.
 */
export function quotable(finding: Finding, shop: Workshop): Finding {
  const { file, ...where } = finding.where;
  if (file === undefined) return finding;
  const root = resolve(shop.patterns, '..');
  const name = file.startsWith(root + sep) ? relative(root, file) : file;
  const folders = [shop.patterns, shop.shared, shop.out];
  if ([root, ...folders].includes(file) || folders.some((folder) => liesIn(folder, file))) {
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
