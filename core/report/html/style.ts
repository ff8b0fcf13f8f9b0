/**
 * Dark on white throughout; colour repeats what a word and an outline already say. Margin boxes put the digest and the
 * page number on every printed page where the browser knows them.
 */
export function style(digest: string | undefined): string {
  const foot =
    digest !== undefined && /^[0-9a-f]+$/.test(digest) ? `Heatgate report sha256:${digest}` : "Heatgate report";
  return `${SCREEN}${PHONE}
@page {
  margin: 16mm 14mm 18mm;
  @bottom-left { content: "${foot}"; font: 7pt monospace; color: #333; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8pt sans-serif; color: #333; }
}
${PRINT}`;
}

const SCREEN = `
:root { --fail: #a3121f; --undetermined: #7a4b00; --pass: #14592b; --not-applicable: #4a4f57; --line: #8a9099; --soft: #d5d9de; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 76rem; padding: 1.5rem 1.25rem 3rem; background: #fff; color: #15181c;
  font: 1rem/1.45 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "DejaVu Sans", sans-serif; }
h1, h2, h3 { line-height: 1.2; margin: 0; }
h1 { font-size: 2rem; }
h2 { font-size: 1.35rem; margin: 2.5rem 0 .6rem; padding-top: .9rem; border-top: 2px solid #15181c; }
h3 { font-size: 1.05rem; margin: 1.4rem 0 .5rem; }
p { margin: 0; }
a { color: #0b3f8a; }
a:focus-visible { outline: 3px solid #0b3f8a; outline-offset: 2px; }
h1, h2, h3, p, dd, tbody td, tbody th, li, caption { overflow-wrap: anywhere; }
.verdict { display: flex; gap: 1.1rem; align-items: center; padding: 1.1rem 1.25rem; border: 3px solid; border-left-width: 14px; border-radius: 4px; }
.verdict .symbol { width: 3.6rem; height: 3.6rem; }
.verdict.fail { border-color: var(--fail); }
.verdict.undetermined { border-color: var(--undetermined); border-style: dashed; border-left-style: solid; }
.verdict.pass { border-color: var(--pass); }
.verdict.not-applicable { border-color: var(--not-applicable); }
.meaning { margin-top: .25rem; }
.symbol { flex: none; width: 1.15em; height: 1.15em; overflow: visible; }
.symbol .shape { fill: #fff; stroke: currentColor; stroke-width: 2; }
.symbol .sign { fill: none; stroke: currentColor; stroke-width: 2.6; stroke-linecap: round; stroke-linejoin: round; }
.symbol.fail { color: var(--fail); }
.symbol.fail .shape { fill: var(--fail); }
.symbol.fail .sign { stroke: #fff; }
.symbol.undetermined { color: var(--undetermined); }
.symbol.pass { color: var(--pass); }
.symbol.not-applicable { color: var(--not-applicable); }
.mark { display: inline-flex; gap: .4em; align-items: center; font-weight: 600; white-space: nowrap; }
.mark.fail { color: var(--fail); }
.mark.undetermined { color: var(--undetermined); }
.mark.pass { color: var(--pass); }
.mark.not-applicable { color: var(--not-applicable); font-weight: 400; }
h2 .mark { margin-left: .5rem; font-size: 1.05rem; }
.facts { margin: .9rem 0 0; }
.facts div { display: flex; gap: .75rem; margin-top: .2rem; }
.facts dt { flex: 0 0 7.5rem; color: #3d434b; }
.facts dd { margin: 0; min-width: 0; }
.reasons { list-style: none; margin: 0; padding: 0; }
.reasons li { display: flex; gap: .7rem; margin: 0 0 .8rem; }
.reasons .symbol { margin-top: .15em; }
.reasons div { min-width: 0; }
.advice { margin: .2rem 0 .6rem; padding: .45rem .8rem; border-left: 4px solid var(--undetermined); background: #fbf6ec; }
.from { color: #3d434b; font-size: .9rem; }
.note { display: block; }
tbody th .from { font-weight: 400; }
.of-heat { font-weight: 400; }
.unverified { display: inline-block; padding: 0 .35em; border: 1.5px dashed var(--undetermined); color: var(--undetermined); font-size: .9rem; font-weight: 600; }
.digest { font: .8rem/1.35 ui-monospace, Menlo, Consolas, "DejaVu Sans Mono", monospace; overflow-wrap: anywhere; }
q { quotes: "\\201c" "\\201d"; }
table { width: 100%; margin: 1.2rem 0 1.6rem; border-collapse: collapse; font-size: .92rem; }
caption { padding: 0 0 .4rem; text-align: left; font-weight: 700; font-size: 1.02rem; }
thead th { padding: .35rem .9rem .35rem 0; border-bottom: 2px solid var(--line); text-align: left; vertical-align: bottom; font-weight: 600; color: #3d434b; }
tbody th, tbody td { padding: .4rem .9rem .4rem 0; border-bottom: 1px solid var(--soft); text-align: left; vertical-align: top; font-variant-numeric: tabular-nums; }
tbody tr:target, tbody tr:has(:target) { background: #fdf3c4; }
.numeric { text-align: right; }
td .label, th .label { display: none; }
.picture { margin: 1.2rem 0; overflow-x: auto; }
.picture:focus-visible { outline: 3px solid #0b3f8a; outline-offset: 2px; }
.picture svg { display: block; width: 100%; max-width: 45rem; min-width: 34rem; height: auto; }
.spots { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(17rem, 100%), 1fr)); gap: 1rem; list-style: none; margin: .6rem 0 1.2rem; padding: 0; }
.spots li { padding: .6rem .7rem; border: 1px solid var(--soft); border-radius: 4px; }
.spots li:target { background: #fdf3c4; }
.spots .spot, .no-picture { margin-bottom: .35rem; }
.spot { display: block; max-width: 100%; height: auto; border: 1px solid var(--line); }
td .spot, th .spot { margin-top: .3rem; }
.no-picture { display: block; }
.hints { margin: 0; padding-left: 1.2rem; }
.hints li { margin-bottom: .4rem; }
.cautions { margin-top: 2rem; }
.cautions ul { padding-left: 1.2rem; }
`;

const PHONE = `
@media screen and (max-width: 44rem) {
  body { padding: 1rem .9rem 2rem; }
  h1 { font-size: 1.6rem; }
  .verdict { gap: .8rem; padding: .8rem .9rem; border-left-width: 10px; }
  .verdict .symbol { width: 2.6rem; height: 2.6rem; }
  .facts div { display: block; margin-top: .5rem; }
  table, caption, tbody, tr, tbody th, tbody td { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tbody tr { margin: 0 0 .7rem; padding: .5rem .7rem; border: 1px solid var(--line); border-radius: 4px; }
  tbody th, tbody td { display: flex; gap: .6rem; padding: .15rem 0; border: 0; }
  tbody th { font-size: 1.05rem; }
  td .label { display: block; flex: 0 0 6.8rem; color: #3d434b; }
  .content { min-width: 0; }
  .numeric { text-align: left; }
}
`;

const PRINT = `
@media print {
  body { max-width: none; padding: 0; font-size: 9.5pt; }
  h1 { font-size: 20pt; }
  h2 { font-size: 13pt; margin-top: 14pt; }
  h3 { font-size: 11pt; }
  h2, h3, caption, .advice { break-after: avoid; }
  h3 + .from { break-after: avoid; }
  .spots { grid-template-columns: repeat(3, 1fr); gap: 3mm; break-before: avoid; }
  .spots li { break-inside: avoid; padding: 2mm; }
  .picture { overflow: visible; break-inside: avoid; }
  .picture svg { min-width: 0; max-width: 120mm; }
  tr, li, .verdict, .facts div, .advice { break-inside: avoid; }
  thead { display: table-header-group; }
  thead, thead tr { break-after: avoid; }
  tbody tr:first-child { break-before: avoid; }
  table.short { break-inside: avoid; }
  table { font-size: 8.5pt; }
  .from, .unverified { font-size: 8pt; }
  .digest { font-size: 7pt; }
  td .spot, th .spot { max-height: 14mm; width: auto; }
  .advice { background: none; }
  a { color: inherit; text-decoration: none; }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
`;
