/** Style of the run sheet: black on white, one accent, made for A4 and Letter. */
export const sheetStyle = `
:root { --ink: #1b1b1b; --soft: #55514a; --rule: #b9b4aa; --accent: #7a2e1d; }
* { box-sizing: border-box; }
body { font: 11pt/1.4 'DejaVu Sans', Verdana, Arial, sans-serif; color: var(--ink); background: #fff; max-width: 190mm; margin: 8mm auto; padding: 0 4mm; }
h1 { font-size: 20pt; line-height: 1.15; margin: 0 0 2mm; }
h2 { font-size: 14pt; margin: 8mm 0 2mm; border-bottom: 0.6mm solid var(--accent); padding-bottom: 1mm; }
h3 { font-size: 11.5pt; margin: 5mm 0 1mm; }
header p { margin: 0; color: var(--soft); }
table { border-collapse: collapse; width: 100%; }
th { text-align: left; font-size: 9pt; color: var(--soft); font-weight: 600; border-bottom: 0.3mm solid var(--ink); padding: 1mm 2mm 1mm 0; vertical-align: bottom; }
td { border-bottom: 0.2mm solid var(--rule); padding: 1.2mm 2mm 1.2mm 0; vertical-align: top; }
table.figures td:not(:first-child), table.figures th:not(:first-child) { text-align: right; font-variant-numeric: tabular-nums; }
dl { display: grid; grid-template-columns: 1fr 1fr; gap: 1mm 6mm; margin: 0; }
dl div { display: flex; gap: 3mm; border-bottom: 0.2mm solid var(--rule); padding: 1mm 0; }
dt { flex: 0 0 22mm; color: var(--soft); font-size: 9.5pt; }
dd { margin: 0; font-size: 9.5pt; }
figure { margin: 2mm 0; }
figure svg { display: block; width: 100%; height: auto; }
ol { columns: 3; column-gap: 6mm; margin: 1mm 0 0; padding-left: 7mm; font-size: 9pt; font-variant-numeric: tabular-nums; }
.face { font-size: 12pt; margin: 2mm 0 3mm; }
.face strong { font-size: 26pt; line-height: 1.1; display: block; color: var(--accent); letter-spacing: 0.02em; }
.order { margin: 2mm 0 0; font-size: 9.5pt; color: var(--soft); }
.cautions { border: 0.6mm solid var(--ink); padding: 0 4mm 2mm; margin-top: 8mm; break-inside: avoid; }
.cautions h2 { border: 0; margin: 3mm 0 1mm; }
.cautions ul { margin: 0; padding-left: 5mm; }
.bite { break-inside: avoid; }
code { font-family: 'DejaVu Sans Mono', monospace; font-size: 0.95em; }
@page { size: auto; margin: 12mm; }
@media print { body { margin: 0; padding: 0; max-width: none; } .material { break-before: page; } .material > h2 { margin-top: 0; } }
`;
