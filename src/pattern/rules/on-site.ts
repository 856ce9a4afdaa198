import type { Finding } from '../../base/findings.ts';
import { counted, quotedNames } from '../../base/wording.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { isMark } from '../mark-names.ts';
import type { Piece } from '../piece.ts';
import { featuresForAll } from '../piece.ts';
import type { SetContent } from '../set-file.ts';

/**
 * Rule: what the set file says to be done in the vehicle has a mark on the piece that shows where. A piece of
 * which some marks have an entry and others none is told too: the fitting sheet does not speak of the others.
 */
export function checkOnSite({ placeOf }: YamlFile<SetContent>, piece: Piece): Finding[] {
  const { name, entry } = piece;
  const said = Object.keys(entry.onSite ?? {});
  if (said.length === 0) return [];
  const marks = featuresForAll(piece).filter(isMark);
  const drawn = new Set(marks.map((mark) => mark.name));
  const unsaid = marks.filter((mark) => mark.name === null && mark.role === 'HOLE');
  const known = said.filter((one) => drawn.has(one));
  const missing = said
    .filter((one) => !drawn.has(one))
    .map((one): Finding => ({
      severity: 'warning',
      rule: 'on-site-mark',
      message: `"onSite" says what is done at "${one}" on "${name}", and no mark of that name is drawn: the fitting sheet cannot say where.`,
      todo: `Put a text "${one}" within 60 mm of its drill mark (a single point on HOLE) or of its line on MARK, nearer than to any other mark.${known.length === 0 ? '' : ` Marks with names: ${quotedNames(known)}.`}`,
      where: { ...placeOf(['pieces', name, 'onSite', one]), piece: name },
    }));
  if (unsaid.length === 0) return missing;
  const [first] = unsaid;
  const others = `${counted(unsaid.length, 'drill mark')} of "${name}" ${unsaid.length === 1 ? 'has' : 'have'} no entry under "onSite", and others have: the fitting sheet does not say what ${unsaid.length === 1 ? 'it is' : 'they are'} for.`;
  return [
    ...missing,
    {
      severity: 'note',
      rule: 'drill-mark-unsaid',
      message: others,
      todo: 'Put a name beside each and say under "onSite" what is done there; or nothing, if only the shop needs it.',
      where: { ...piece.where, line: first!.line, at: first!.path.vertices[0]! },
    },
  ];
}
