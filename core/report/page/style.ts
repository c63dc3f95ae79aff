import { Markup } from "./markup.ts";

/** A text as a CSS string: every character but letters, digits and blanks as its code, so that nothing can end it. */
export function cssString(text: string): string {
  const escaped = [...text.replace(/[\p{Cc}\p{Surrogate}\s]+/gu, " ")]
    .map((character) => (/[A-Za-z0-9 ]/.test(character) ? character : `\\${character.codePointAt(0)?.toString(16)} `))
    .join("");
  return `"${escaped}"`;
}

/** What stands in the margins of every page. */
export interface PageMargins {
  /** Which report the page is a part of, short. */
  readonly name: string;
  readonly seal: string;
  /** A warning that no page may be without; null for none. */
  readonly warning: string | null;
}

/** The page's one style sheet. Ink on paper whatever the screen is like: it is made to be printed. */
export function styleSheet({ name, seal, warning }: PageMargins): Markup {
  return new Markup(`<style>
${SHEET}
@page {
  margin: 17mm 14mm 18mm;
  @top-left { content: ${cssString(name)}; ${MARGIN_TEXT} white-space: nowrap; }
  @top-right { content: ${warning === null ? '""' : cssString(warning)}; ${MARGIN_TEXT} font-weight: bold; white-space: nowrap; }
  @bottom-left { content: ${cssString(`Seal ${seal}`)}; ${MARGIN_TEXT} font-family: ${MONO}; font-size: 6.5pt; white-space: nowrap; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); ${MARGIN_TEXT} white-space: nowrap; }
}
</style>`);
}

const FACE = '"Bahnschrift", "DIN Alternate", "Barlow", "Roboto", "Noto Sans", "DejaVu Sans", system-ui, sans-serif';
const MONO = 'ui-monospace, "Cascadia Mono", "SF Mono", "DejaVu Sans Mono", monospace';
const MARGIN_TEXT = `font-family: ${FACE}; font-size: 7.5pt; color: #14191d;`;

const SHEET = `
:root { color-scheme: only light; --ink: #14191d; --soft: #4a5157; --line: #737a7f; --hair: #c4c4bd; --wash: #ececea; }
* { box-sizing: border-box; }
html { background: #dfddd5; }
body {
  margin: 0 auto; max-width: 200mm; padding: 9mm; background: #fff; color: var(--ink);
  font: 8.5pt/1.4 ${FACE}; font-variant-numeric: tabular-nums lining-nums; overflow-wrap: break-word;
  -webkit-print-color-adjust: exact; print-color-adjust: exact;
}
h1, h2, h3, p, ul, ol, dl, figure { margin: 0; }
.long { overflow-wrap: anywhere; }
h1 { font-size: 13pt; line-height: 1.2; font-weight: 600; }
h2 { font-size: 11pt; line-height: 1.25; font-weight: 600; margin: 6mm 0 1.6mm; padding-top: 1mm; border-top: 0.5mm solid var(--ink); }
h3 { font-size: 9pt; font-weight: 600; margin: 3mm 0 1mm; }
h2, h3, caption, thead { break-after: avoid; break-inside: avoid; }
thead + tbody > tr:first-child { break-before: avoid; }
p + p, ul + p, p + ul, table + p, figure + p, p + table { margin-top: 1.6mm; }
p, li { orphans: 3; widows: 3; }
ul, ol { padding-left: 4.5mm; }
li { margin: 0.4mm 0; }
.soft { color: var(--soft); }
.small { font-size: 7.5pt; }
.seal { font-family: ${MONO}; font-size: 6.2pt; overflow-wrap: anywhere; }
.loud { border: 0.7mm solid var(--ink); padding: 1.6mm 2.5mm; margin-bottom: 3mm; font-weight: 600; }
.loud strong { font-size: 12pt; letter-spacing: 0.06em; }
.together, .loud, figure { break-inside: avoid; }

table { width: 100%; border-collapse: collapse; }
caption { text-align: left; font-weight: 600; padding: 0 0 1mm; }
thead { display: table-header-group; }
tfoot { display: table-row-group; }
tr, tbody.whole { break-inside: avoid; }
th, td { padding: 0.7mm 1.4mm; text-align: left; vertical-align: top; border-bottom: 0.15mm solid var(--hair); }
thead th { font-weight: 600; font-size: 7.5pt; vertical-align: bottom; border-bottom: 0; }
thead td { border-bottom: 0; }
thead tr:last-child th, thead tr:last-child td { border-bottom: 0.3mm solid var(--ink); }
tbody.whole { border-bottom: 0.2mm solid var(--line); }
th.mid { text-align: center; }
.bores { font-size: 8pt; }
.bores th, .bores td { padding: 0.5mm 1.1mm; }
.n { text-align: right; white-space: nowrap; overflow-wrap: normal; }
thead .n { white-space: normal; }
.keep { white-space: nowrap; overflow-wrap: normal; }
table + .small, .scroll + .small { break-before: avoid; }
.words { min-width: 22mm; }
td.first { font-weight: 600; }
tfoot td, tfoot th { border-bottom: 0; }
tbody + tbody.total, tfoot { border-top: 0.3mm solid var(--ink); }

.titleBlock { border: 0.5mm solid var(--ink); table-layout: fixed; width: calc(100% - 0.4mm); margin: 0 0.2mm; }
.titleBlock td { border: 0.2mm solid var(--line); padding: 0.5mm 1.6mm 0.8mm; line-height: 1.3; }
.titleBlock .label { display: block; font-size: 6.5pt; line-height: 1.3; color: var(--soft); }
.blank { display: inline-block; min-width: 30mm; height: 4.6mm; border-bottom: 0.2mm dotted var(--ink); vertical-align: bottom; }
.titleBlock .blank { display: block; min-width: 0; }

.tally { font-size: 11pt; line-height: 1.35; }
.tally + * { margin-top: 1.6mm; }
.mark { height: 1.2em; width: 2.03em; vertical-align: -0.24em; margin-right: 0.25em; }
.key { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 1mm 5mm; margin: 1.5mm 0; font-size: 8pt; }

svg { display: block; }
svg text { font-family: ${FACE}; fill: var(--ink); }
.drawing { width: 100%; height: auto; }
.outline { fill: none; stroke: var(--ink); stroke-width: 1.4; }
.centreLine { fill: none; stroke: var(--line); stroke-width: 0.8; stroke-dasharray: 14 4 3 4; }
.thin { fill: none; stroke: var(--line); stroke-width: 0.8; }
.ring { fill: #fff; stroke: var(--ink); stroke-width: 1.6; }
.full { fill: var(--ink); stroke: var(--ink); stroke-width: 1; stroke-linejoin: round; }
.tick { fill: none; stroke: var(--ink); stroke-width: 2.2; }
.mark .tick { stroke-width: 1.7; }
.softText { fill: var(--soft); }
.band { fill: var(--wash); }
.limit { fill: none; stroke: var(--ink); stroke-width: 1.3; }
.service { fill: none; stroke: var(--ink); stroke-width: 1; stroke-dasharray: 7 4; }
.column { fill: none; stroke: var(--hair); stroke-width: 0.6; }
.whisker { fill: none; stroke: var(--ink); stroke-width: 1.1; }
.square { fill: #fff; stroke: var(--ink); stroke-width: 1.2; }
.budget { font-size: 7.8pt; line-height: 1.28; }
.budget th, .budget td { padding-block: 0.4mm; }
.budget td:first-child, .budget td:nth-child(2) { white-space: nowrap; }
.share { display: flex; align-items: center; gap: 1.5mm; justify-content: flex-end; white-space: nowrap; }
.scroll + .scroll, .scroll + table { margin-top: 4mm; }
.share svg { width: 18mm; height: 2.4mm; flex: none; background: var(--wash); }
.share rect { fill: var(--ink); }

.hand td { height: 6.5mm; padding-block: 0.2mm; vertical-align: middle; border: 0.2mm solid var(--line); }
.hand.tight td { height: 5.4mm; }
.hand th { border: 0.2mm solid var(--line); }
.hand tbody th { vertical-align: middle; font-weight: 600; }
.signatures td { height: 9.5mm; vertical-align: bottom; }
.signatures th { vertical-align: bottom; font-weight: 400; }
.end { margin-top: 5mm; border-top: 0.5mm solid var(--ink); padding-top: 1.5mm; }
.watermark {
  position: fixed; inset: 0; display: flex; align-items: center; justify-content: center; pointer-events: none; z-index: -1;
}
.watermark span { transform: rotate(-32deg); font-size: 62pt; font-weight: 700; letter-spacing: 0.1em; color: #e6e6e3; }
body { position: relative; z-index: 0; }

@media print {
  html, body { background: #fff; }
  body { max-width: none; padding: 0; margin: 0; }
  h2 { margin-top: 4mm; }
  .onNewPage { break-before: page; }
  .onNewPage > h2 { margin-top: 0; }
}
@media screen { .scroll { overflow-x: auto; } }
`;
