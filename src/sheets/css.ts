/** The look of everything printed: ink on paper, grey only, nothing that needs a colour to be understood. */
export const SHEET_CSS = `
:root { color-scheme: light; }
* { box-sizing: border-box; margin: 0; }
body { font: 10.5pt/1.4 "Atkinson Hyperlegible", system-ui, sans-serif; color: #111; background: #fff; font-variant-numeric: tabular-nums; max-width: 190mm; padding: 8mm; }
body.arm { font-size: 12pt; }
body.fine { font-size: 9.5pt; line-height: 1.3; }
@media print { body { padding: 0; max-width: none; } .screen-only { display: none; } }
header { border-bottom: 2px solid #111; padding-bottom: 3mm; margin-bottom: 4mm; display: flex; justify-content: space-between; gap: 6mm; align-items: flex-end; }
h1 { font-size: 18pt; line-height: 1.15; text-wrap: balance; }
header p { color: #444; text-align: right; font-size: 9pt; flex: none; }
h2 { font-size: 1.1em; border-top: 1px solid #111; padding-top: 2mm; margin: 5mm 0 2mm; }
h3 { font-size: 1.05em; margin: 0; }
h2, h3, .head, thead, caption { break-after: avoid; }
p, li { orphans: 3; widows: 3; }
p + p { margin-top: 1.5mm; }
ul, ol { padding-left: 5mm; }
li { margin: 0.6mm 0; break-inside: avoid; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: 700; padding-bottom: 1mm; }
th, td { text-align: left; vertical-align: top; padding: 1.2mm 3mm 1.2mm 0; border-bottom: 0.5px solid #999; }
.fine th, .fine td { padding-block: 0.7mm; }
th { font-size: 9pt; color: #444; font-weight: 700; }
td.day, th.day { white-space: nowrap; }
td.n, th.n { text-align: right; white-space: nowrap; padding-right: 0; }
tr, .job, .mishap, .caution, .stop-use { break-inside: avoid; }
.job, .finding { border-top: 1px solid #111; padding: 2.5mm 0; }
h2 + .job, h2 + .finding { border-top: 0; padding-top: 0; }
.places { display: flex; flex-wrap: wrap; gap: 0 6mm; }
.places p, p.places { line-height: 2; margin: 0; }
.places .wide { flex-basis: 100%; }
p.places span, .due span + span { white-space: nowrap; }
.write { display: flex; gap: 3mm; align-items: baseline; line-height: 2; }
.write i { flex: 1; border-bottom: 1px solid #111; }
.head { display: flex; justify-content: space-between; gap: 4mm; align-items: baseline; }
.head .soft { white-space: nowrap; }
.soft { color: #444; font-size: 0.86em; }
.box { display: inline-block; width: 0.4cm; height: 0.4cm; border: 1.2px solid #111; vertical-align: -0.07cm; margin-right: 2mm; flex: none; }
.blank { display: inline-block; min-width: 28mm; border-bottom: 1px solid #111; }
.reading { white-space: nowrap; margin-left: 3mm; }
.tick { padding-left: 6mm; text-indent: -6mm; break-inside: avoid; }
.caution { border: 1.5px solid #111; border-left-width: 5px; padding: 1.5mm 3mm; margin: 2mm 0; }
.caution b::after, .stop-use b::after { content: " "; }
.stop-use { border: 1.5px dashed #111; padding: 1.5mm 3mm; margin: 2mm 0; }
.columns { columns: 2; column-gap: 8mm; }
.columns p { break-inside: avoid; }
.due { display: flex; justify-content: space-between; gap: 3mm; border-bottom: 0.5px solid #999; padding: 0.6mm 0; }
.due + .due { margin-top: 0; }
.word { display: inline-block; border: 2px solid #111; padding: 0.5mm 3mm; font-weight: 700; letter-spacing: 0.04em; }
.struck { text-decoration: line-through; color: #555; }
.labels { display: grid; grid-template-columns: repeat(3, 1fr); gap: 4mm; }
.label { border: 1px dashed #999; padding: 3mm; display: grid; grid-template-columns: 22mm 1fr; gap: 3mm; break-inside: avoid; align-items: center; }
.label svg { width: 22mm; height: 22mm; }
footer { margin-top: 6mm; border-top: 1px solid #111; padding-top: 2mm; color: #444; font-size: 8.5pt; break-inside: avoid; break-before: avoid; overflow-wrap: anywhere; }
`;

/**
 * The paper itself: its margins, and at the foot of every page what it is and of how many. Browsers that know no boxes in the margin
 * print it without.
 */
export function pageRule(foot: string): string {
  const box = 'font: 8.5pt "Atkinson Hyperlegible", system-ui, sans-serif; color: #444;';
  return `@page { size: auto; margin: 13mm 14mm 17mm; @bottom-left { content: ${cssString(foot)}; ${box} } @bottom-right { content: "Page " counter(page) " of " counter(pages); ${box} } }\n`;
}

/** A text between the quotation marks of CSS, and safe within an element of HTML. */
const cssString = (text: string): string =>
  `"${text.replace(/["\\<>\p{Cc}]/gu, (one) => `\\${one.codePointAt(0)!.toString(16)} `)}"`;
