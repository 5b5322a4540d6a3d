/** The look of everything printed: ink on paper, grey only, nothing that needs a colour to be understood. */
export const SHEET_CSS = `
:root { color-scheme: light; }
@page { size: auto; margin: 14mm 14mm 16mm; }
* { box-sizing: border-box; margin: 0; }
body { font: 10.5pt/1.4 "Atkinson Hyperlegible", system-ui, sans-serif; color: #111; background: #fff; font-variant-numeric: tabular-nums; max-width: 190mm; padding: 8mm; }
@media print { body { padding: 0; max-width: none; } .screen-only { display: none; } }
header { border-bottom: 2px solid #111; padding-bottom: 3mm; margin-bottom: 4mm; display: flex; justify-content: space-between; gap: 6mm; align-items: flex-end; }
h1 { font-size: 18pt; line-height: 1.15; text-wrap: balance; }
header p { color: #444; text-align: right; font-size: 9pt; flex: none; }
h2 { font-size: 11.5pt; border-top: 1px solid #111; padding-top: 2mm; margin: 5mm 0 2mm; break-after: avoid; }
h3 { font-size: 11pt; margin: 0; }
p + p { margin-top: 1.5mm; }
ul, ol { padding-left: 5mm; }
li { margin: 0.6mm 0; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: 700; padding-bottom: 1mm; }
th, td { text-align: left; vertical-align: top; padding: 1.2mm 3mm 1.2mm 0; border-bottom: 0.5px solid #999; }
th { font-size: 9pt; color: #444; font-weight: 700; }
td.day { white-space: nowrap; }
td.n, th.n { text-align: right; white-space: nowrap; }
tr, .job, .finding, .mishap { break-inside: avoid; }
.job, .finding { border-top: 1px solid #111; padding: 2.5mm 0; }
.places { display: flex; flex-wrap: wrap; gap: 0 6mm; margin: 1mm 0; }
.head { display: flex; justify-content: space-between; gap: 4mm; align-items: baseline; }
.soft { color: #444; font-size: 9pt; }
.box { display: inline-block; width: 4.2mm; height: 4.2mm; border: 1.2px solid #111; vertical-align: -0.7mm; margin-right: 2mm; flex: none; }
.blank { display: inline-block; min-width: 28mm; border-bottom: 1px solid #111; }
.caution { border: 1.5px solid #111; border-left-width: 5px; padding: 1.5mm 3mm; margin: 2mm 0; }
.caution b::after, .stop-use b::after { content: " "; }
.stop-use { border: 1.5px dashed #111; padding: 1.5mm 3mm; margin: 2mm 0; }
.columns { columns: 2; column-gap: 8mm; }
.word { display: inline-block; border: 2px solid #111; padding: 0.5mm 3mm; font-weight: 700; letter-spacing: 0.04em; }
.struck { text-decoration: line-through; color: #555; }
.labels { display: grid; grid-template-columns: repeat(3, 1fr); gap: 4mm; }
.label { border: 1px dashed #999; padding: 3mm; display: grid; grid-template-columns: 22mm 1fr; gap: 3mm; break-inside: avoid; align-items: center; }
.label svg { width: 22mm; height: 22mm; }
footer { margin-top: 6mm; border-top: 1px solid #111; padding-top: 2mm; color: #444; font-size: 8.5pt; }
`;
