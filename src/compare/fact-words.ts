import { cutShort } from '../base/wording.ts';

/**
 * What a person calls a fact, and the unit of its number. `$1` and so on stand for what the pattern found. The first
 * pattern that fits counts.
 */
const table: readonly (readonly [pattern: RegExp, words: string, unit?: string])[] = [
  // The programs.
  [/^units$/, 'the unit of length in the program'],
  [/^units of the drawing$/, 'the unit of length in the drawing'],
  [/^face$/, 'the side of the cloth that lies up'],
  [/^modes$/, 'the modes at the start of the program'],
  [/^height$/, 'the height of the knife while it moves', 'mm'],
  [/^feed$/, 'the feed of the cut', 'mm/min'],
  [/^travel height$/, 'the height at which the knife travels', 'mm'],
  [/^plunge feed$/, 'the feed at which the knife is lowered', 'mm/min'],
  [/^turning feed$/, 'the speed at which the knife is turned', 'degrees/min'],
  [/^begins at$/, 'the place where the knife is lowered'],
  [/^knife$/, 'the knife that the program is for'],
  [/^program kind$/, 'what the program does'],
  [/^machine$/, 'the machine that the program is for'],
  [/^head (.+)$/, 'what the head says of $1'],
  [/^oscillation on$/, 'how often the knife is switched on', 'times'],
  [/^oscillation off$/, 'how often the knife is switched off', 'times'],
  [/^stops$/, 'how often the program stops', 'times'],
  [/^punched$/, 'how often the punch works', 'times'],
  [/^waits$/, 'the time that the program waits, in all', 's'],
  // The machine's profile.
  [/^cutter\.name$/, 'the machine'],
  [/^cutter\.title$/, 'the title of the machine'],
  [/^cutter\.face$/, 'the side of the cloth that lies up'],
  [/^cutter\.program\.units$/, 'the unit of length in programs'],
  [/^cutter\.program\.decimals$/, 'the number of decimals in programs'],
  [/^cutter\.program\.arcs\.chordError$/, 'what a short line may leave its arc by', 'mm'],
  [/^cutter\.program\.arcs$/, 'how arcs are written'],
  [/^cutter\.program\.lineNumbers$/, 'whether lines of programs are numbered'],
  [/^cutter\.program\.before$/, 'the shop’s own lines at the start of programs'],
  [/^cutter\.program\.after$/, 'the shop’s own lines at the end of programs'],
  [/^cutter\.heights\.cut$/, 'the height of the knife while it cuts', 'mm'],
  [/^cutter\.heights\.travel$/, 'the height at which the knife travels', 'mm'],
  [/^cutter\.feeds\.cut$/, 'the feed of the cut', 'mm/min'],
  [/^cutter\.feeds\.plunge$/, 'the feed at which the knife is lowered', 'mm/min'],
  [/^cutter\.feeds\.travel$/, 'the speed with the knife up', 'mm/min'],
  [/^cutter\.motion\.acceleration$/, 'the acceleration of the gantry', 'mm/s2'],
  [/^cutter\.motion\.cornerJump$/, 'the jump of speed at a corner', 'mm/min'],
  [/^cutter\.knife\.kind$/, 'the kind of knife'],
  [/^cutter\.knife\.offset$/, 'the way from the swivel axis back to the tip', 'mm'],
  [/^cutter\.knife\.swivelAboveDeg$/, 'the corner above which the knife swivels', 'degrees'],
  [/^cutter\.knife\.swivelDepth$/, 'the height at which the knife swivels', 'mm'],
  [/^cutter\.knife\.leadIn$/, 'the length of the lead-in', 'mm'],
  [/^cutter\.knife\.liftAboveDeg$/, 'the corner above which the knife is lifted', 'degrees'],
  [/^cutter\.knife\.axis\.letter$/, 'the axis that turns the knife'],
  [/^cutter\.knife\.axis\.feed$/, 'the speed at which the knife is turned', 'degrees/min'],
  [/^cutter\.knife\.axis\.acceleration$/, 'the acceleration of the turning knife', 'degrees/s2'],
  [/^cutter\.knife\.oscillation\.dwell$/, 'the wait until the knife is at speed', 's'],
  [/^cutter\.blade\.width$/, 'the width of the blade', 'mm'],
  [/^cutter\.blade\.smallestRadius$/, 'the smallest radius that the blade cuts', 'mm'],
  [/^cutter\.blade\.leanFrontDeg$/, 'the lean of the blade’s front edge', 'degrees'],
  [/^cutter\.blade\.leanRearDeg$/, 'the lean of the blade’s rear edge', 'degrees'],
  [/^cutter\.notches\.cut$/, 'how notches are cut'],
  [/^cutter\.notches\.width$/, 'the width of a notch', 'mm'],
  [/^cutter\.punch\.diameter$/, 'the diameter of the punch', 'mm'],
  [/^cutter\.punch\.tolerance$/, 'what a punched hole may differ', 'mm'],
  [/^cutter\.punch\.offset$/, 'the way from the knife’s axis to the punch, along and across', 'mm'],
  [/^cutter\.punch\.word$/, 'the word that works the punch'],
  [/^cutter\.punch\.dwell$/, 'the wait of the punch', 's'],
  [/^cutter\.bed\.length$/, 'the length of the bed', 'mm'],
  [/^cutter\.bed\.width$/, 'the width of the bed', 'mm'],
  [/^cutter\.bed\.overrun$/, 'how far the axis may go past the bed', 'mm'],
  [/^cutter\.bed\.joinOverlap$/, 'what both passes of a long part cut', 'mm'],
  [/^cutter\.closingOverlap$/, 'what is cut again past the start of a contour', 'mm'],
  [/^cutter\.price$/, 'the price of an hour of cutting'],
  [/^cutter\.dxf$/, 'the flavour of the drawings for the cutter'],
  // A roll and its lay.
  [/^roll (.+)\.rollWidth$/, 'the full width', 'mm'],
  [/^roll (.+)\.usableWidth$/, 'the usable width', 'mm'],
  [/^roll (.+)\.selvedge$/, 'the selvedge', 'mm'],
  [/^roll (.+)\.startMargin$/, 'what is left free at the start', 'mm'],
  [/^roll (.+)\.rollLength$/, 'the length on the roll', 'mm'],
  [/^roll (.+)\.dyeLot$/, 'the dye lot'],
  [/^roll (.+)\.gap$/, 'the gap between parts', 'mm'],
  [/^roll (.+)\.turns$/, 'how parts may be turned'],
  [/^roll (.+)\.thickness$/, 'the thickness', 'mm'],
  [/^roll (.+)\.biteLength$/, 'the longest bite', 'mm'],
  [/^roll (.+)\.joinOverlap$/, 'what both passes of a long part cut', 'mm'],
  [/^roll (.+)\.seed$/, 'the seed of the search'],
  [/^roll (.+)\.(material|colour|roll)$/, 'the $2'],
  // Orders, materials, the shop.
  [/^order ([^.]+)$/, 'order $1'],
  [/^material ([^.]+)$/, 'material $1'],
  [/^roll ([^.]+)$/, 'roll $1'],
  [/^order (.+?)\.hand$/, 'the hand of drive'],
  [/^order (.+?)\.heelPads$/, 'which heel pads it has'],
  [/^order (.+?)\.quantity$/, 'the number of sets'],
  [/^order (.+?)\.boards$/, 'whether it has boards'],
  [/^order (.+?)\.underlay$/, 'whether it has underlay'],
  [/^order (.+?)\.binding$/, 'the colour of the tape'],
  [/^order (.+?)\.due$/, 'the day on which it is due'],
  [/^order (.+?)\.customer$/, 'the customer'],
  [/^order (.+?)\.benchNote$/, 'the note for the bench'],
  [/^order (.+?)\.customerNote$/, 'the note for the customer'],
  [/^order (.+?)\.alone$/, 'what alone is wanted'],
  [/^order (.+?)\.without$/, 'what is not wanted'],
  [/^order (.+?)\.options\.(.+)$/, 'the option "$2"'],
  [/^order (.+?)\.(\w+)\.(colour|material|finish)$/, 'the $3 of the $2'],
  [/^order (.+?)\.setTitle$/, 'the title of the set'],
  [/^order (.+?)\.title$/, 'the title'],
  [/^order (.+?)\.(\w+)$/, 'the $2'],
  [/^material (.+?)\.colours\.(.+)\.price$/, 'the price of a metre in $2'],
  [/^material (.+?)\.colours\.(.+)\.sample$/, 'the colour in which pictures show $2'],
  [/^material (.+?)\.price$/, 'the price of a metre'],
  [/^material (.+?)\.thickness$/, 'the thickness', 'mm'],
  [/^material (.+?)\.gap$/, 'the gap between parts', 'mm'],
  [/^material (.+?)\.turns$/, 'how parts may be turned'],
  [/^material (.+?)\.allowances\.(\w+)$/, 'the allowance for a $2 edge', 'mm'],
  [/^material (.+?)\.bridge$/, 'what must be left beside a cutout', 'mm'],
  [/^material (.+?)\.punch$/, 'the smallest hole', 'mm'],
  [/^material (.+?)\.notchDepth$/, 'the depth of a notch', 'mm'],
  [/^material (.+?)\.roll\.width$/, 'the full width of its rolls', 'mm'],
  [/^material (.+?)\.roll\.selvedge$/, 'the selvedge of its rolls', 'mm'],
  [/^material (.+?)\.roll\.startMargin$/, 'what is left free at the start of its rolls', 'mm'],
  [/^material (.+?)\.fixed$/, 'how it is fixed to its carpet'],
  [/^bench\.price$/, 'the price of an hour at the bench'],
  [/^bench\.minutes\.(\w+)$/, 'the time that the bench takes for "$1"', 'min'],
  [/^inches$/, 'whether papers say inches too'],
  [/^run$/, 'the name of the run'],
  [/^title$/, 'the title'],
  [/^recutOf\.run$/, 'the run that is cut again'],
  [/^recutOf\.fingerprint$/, 'the fingerprint of the run that is cut again'],
  [/^recutOf$/, 'the run that is cut again'],
  [/^labelStock\.title$/, 'the sheet that labels are printed on'],
  [/^labelStock\.(columns|rows)$/, 'the number of $1 on the sheet of labels'],
  [/^labelStock\.(.+)$/, 'a size of the sheet of labels ($1)', 'mm'],
  // A part or a piece.
  [/^pileDeg$/, 'the way the pile leans in the vehicle', 'degrees'],
  [/^pile runs$/, 'the way the pile leans', 'degrees'],
  [/^hand$/, 'the hand of drive'],
  [/^tilt$/, 'by how much more it may be turned', 'degrees'],
  [/^turns$/, 'how it may be turned on the roll'],
  [/^next$/, 'the work at the bench'],
  [/^shape$/, 'the options that shape it'],
  [/^set$/, 'the number of its set'],
  [/^layer$/, 'the layer of its outline'],
  [/^drawn$/, 'the hand of drive that is drawn'],
  [/^first outline$/, 'the choice that its first outline goes with'],
  [/^(?:covered|covered\.(.+))$/, 'what covers the raw edge $1'],
  [/^(?:tucked|tucked\.(.+))$/, 'what the tucked edge goes under $1'],
  [/^decided$/, 'the reason why it is right for both hands'],
  [/^half$/, 'whether only one half is drawn'],
  [/^only$/, 'the only hand of drive that it is cut for'],
  [/^outline$/, 'what its outline follows'],
  [/^drawnSide$/, 'the half of the pair that is drawn'],
  [/^quantity$/, 'how often it is cut'],
  [/^notch$/, 'the depth of its notches', 'mm'],
  [/^edge$/, 'what an edge is that no line traces'],
  [/^pad$/, 'the material of the heel pad'],
  [/^(board|underlay)\.(\w+)$/, 'the $2 of the $1'],
  [/^uses\.(\w+)$/, 'the usual material of $1'],
  [/^options\.(.+)\.default$/, 'the usual choice of the option "$1"'],
  [/^options\.(.+)\.words$/, 'the name of the option "$1" on papers'],
  [/^groups\.(.+)$/, 'the pieces of the group "$1"'],
  [/^ease$/, 'what two edges of a seam may differ', 'mm'],
  [/^gap$/, 'the gap between loose ends that are joined', 'mm'],
  [/^(material|colour|side|piece|kind|order|name|binding|drawing|pile|block|file)$/, 'the $1'],
];

/** The order, material or roll that a fact is of; null: it is of the whole input, or of a thing that has a name besides. */
export function factOwner(name: string): string | null {
  return /^((?:order|material|roll) [^.]+)\./.exec(name)?.[1] ?? null;
}

/** What a person calls a fact, without what it is of: `the gap between parts`. */
export function factWords(name: string): string {
  for (const [pattern, words] of table) {
    const match = pattern.exec(name);
    if (match === null) continue;
    return words.replaceAll(/\$(\d)/g, (_, n: string) => plain(match[Number(n)] ?? '')).trim();
  }
  const owner = factOwner(name);
  return plain(owner === null ? name : name.slice(owner.length + 1));
}

/** A path of keys as words: `motion.cornerJump` is `motion, corner jump`. */
function plain(name: string): string {
  return name
    .replaceAll(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
    .replaceAll(/\.(?=\D)/g, ', ');
}

/** Values that are words of the files, as people say them. */
const said: Readonly<Record<string, string>> = { true: 'yes', false: 'no' };

/** The value of a fact: a number with its unit, words in quotes. */
export function valueWords(name: string, value: string): string {
  if (value in said) return said[value]!;
  const unit = table.find(([pattern]) => pattern.test(name))?.[2];
  const isNumber = /^-?[\d.]+(?:, -?[\d.]+)*$/.test(value);
  if (isNumber && unit !== undefined) return `${value} ${unit}`;
  if (isNumber || /^(?:X -?[\d.]+, Y|not said$)/.test(value)) return value;
  return `"${cutShort(value.replaceAll(/\s+/g, ' '), 90)}"`;
}
