/**
 * The style of all papers: black on white with one accent, for A4 and Letter. `foot` is printed on every
 * sheet, `again` at the top of each after the first.
 */
export function paperStyle(foot: string, again?: string): string {
  return `
:root { --ink: #1b1b1b; --soft: #55514a; --rule: #b9b4aa; --accent: #7a2e1d; }
* { box-sizing: border-box; }
body { font: 10.5pt/1.4 'DejaVu Sans', Verdana, Arial, sans-serif; color: var(--ink); background: #fff; max-width: 190mm; margin: 8mm auto; padding: 0 4mm; overflow-wrap: break-word; }
h1 { font-size: 20pt; line-height: 1.15; margin: 0 0 2mm; }
h2 { font-size: 14pt; margin: 7mm 0 2mm; border-bottom: 0.6mm solid var(--accent); padding-bottom: 1mm; break-after: avoid; }
h3 { font-size: 11.5pt; margin: 4mm 0 1mm; break-after: avoid; }
header p, .soft { margin: 0 0 1mm; color: var(--soft); font-size: 9.5pt; }
p { margin: 1mm 0 2mm; }
table { border-collapse: collapse; width: 100%; margin: 0 0 2mm; }
th { text-align: left; font-size: 9pt; color: var(--soft); font-weight: 600; border-bottom: 0.3mm solid var(--ink); padding: 1mm 2mm 1mm 0; vertical-align: bottom; }
td { border-bottom: 0.2mm solid var(--rule); padding: 1.2mm 2mm 1.2mm 0; vertical-align: top; }
tr { break-inside: avoid; }
tfoot { display: table-row-group; }
tfoot td { font-weight: 600; border-bottom: 0.3mm solid var(--ink); }
.figures { text-align: right; font-variant-numeric: tabular-nums; }
td.figures { white-space: nowrap; }
dl { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; margin: 0 0 2mm; }
dl div { display: flex; gap: 3mm; border-bottom: 0.2mm solid var(--rule); padding: 0.8mm 0; break-inside: avoid; }
dt { flex: 0 0 26mm; color: var(--soft); }
dd { margin: 0; }
dt, dd { font-size: 9.5pt; }
figure { margin: 1mm 0; }
figure svg { display: block; width: 100%; height: auto; }
ul, ol { margin: 1mm 0 2mm; padding-left: 6mm; }
.columns-2, .columns-3 { display: grid; column-gap: 10mm; } .columns-2 { grid-template-columns: 1fr 1fr; } .columns-3 { grid-template-columns: 1fr 1fr 1fr; }
ol.columns-2, ol.columns-3 { font-size: 9.5pt; padding-left: 8mm; font-variant-numeric: tabular-nums; }
.shout strong { font-size: 24pt; line-height: 1.1; display: block; color: var(--accent); letter-spacing: 0.02em; }
.frame { border: 0.6mm solid var(--ink); padding: 0 4mm 2mm; margin: 4mm 0; break-inside: avoid; }
.frame h2 { border: 0; margin: 3mm 0 1mm; font-size: 11.5pt; }
.beside { display: flex; gap: 4mm; align-items: flex-start; border-bottom: 0.2mm solid var(--rule); break-inside: avoid; }
.beside figure { flex: none; }
.beside > div { flex: 1; }
.cards { display: grid; grid-template-columns: 1fr 1fr; gap: 5mm; border-bottom: 0.2mm solid var(--rule); padding: 1mm 0; break-inside: avoid; }
.card { display: flex; gap: 3mm; align-items: flex-start; min-width: 0; font-size: 9.5pt; }
.card.wide { grid-column: 1 / -1; }
.card figure { flex: none; }
.card > div { flex: 1; min-width: 0; }
.card h3 { margin-top: 0; }
.card ol, .card ul { padding-left: 5mm; margin: 0.5mm 0; }
.card p { margin: 0.5mm 0; }
.together { break-inside: avoid; } .with-next { break-after: avoid; }
footer { color: var(--soft); font-size: 9pt; margin-top: 6mm; }
@page { size: auto; margin: 10mm 10mm 14mm; @bottom-left { content: "${inCss(foot)}"; font: 8pt 'DejaVu Sans', Verdana, sans-serif; } @bottom-right { content: "sheet " counter(page) " of " counter(pages); font: 8pt 'DejaVu Sans', Verdana, sans-serif; } }
${again === undefined ? '' : againStyle(again)}@media print { body { margin: 0; padding: 0; max-width: none; } .shout { margin: 0 0 1mm; } footer { display: none; } }
`;
}

function againStyle(again: string): string {
  return `@page { @top-left { content: "${inCss(again)}"; font: bold 11pt 'DejaVu Sans', Verdana, sans-serif; } } @page :first { @top-left { content: none; } }
`;
}

/** Text for a CSS string in an HTML file. Nothing in it can end the string or the style. */
function inCss(text: string): string {
  return text.replaceAll(/[^A-Za-z0-9 .,:-]/gu, (c) => `\\${c.codePointAt(0)!.toString(16)} `);
}
