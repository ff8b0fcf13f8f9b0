/** Large enough for gloves and a phone in a warehouse; colours repeat what words and outlines say. */
export const PAGE_STYLE = `
:root { --fail: #a3121f; --undetermined: #7a4b00; --pass: #14592b; --not-applicable: #4a4f57; --ink: #15181c; --line: #6b7280; --soft: #eef0f3; --link: #0b3f8a; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 60rem; padding: 0 1rem 3rem; color: var(--ink); background: #fff;
  font: 1.0625rem/1.5 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "DejaVu Sans", sans-serif; }
header { display: flex; justify-content: space-between; align-items: center; gap: 1rem; padding: .5rem 0; border-bottom: 2px solid var(--ink); }
header nav { display: flex; gap: 1rem; align-items: center; }
header a { display: inline-block; padding: .5rem 0; min-height: 2.75rem; }
.home { font-weight: 700; font-size: 1.2rem; color: var(--ink); text-decoration: none; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 1.25rem 0 .75rem; overflow-wrap: anywhere; }
h2 { font-size: 1.25rem; margin: 2rem 0 .5rem; }
h3 { font-size: 1.05rem; margin: 1rem 0 .25rem; }
main { overflow-wrap: anywhere; }
a { color: var(--link); }
a:focus-visible, button:focus-visible, input:focus-visible, select:focus-visible, textarea:focus-visible, summary:focus-visible { outline: 3px solid var(--link); outline-offset: 2px; }
.skip { position: absolute; left: -100vw; }
.skip:focus { left: 1rem; top: 0; background: #fff; padding: .5rem 1rem; z-index: 1; }
form { margin: 0; }
.field { margin: 0 0 1rem; }
label, legend { font-weight: 600; display: block; margin-bottom: .25rem; }
.spot { display: block; max-width: 100%; height: auto; margin: .25rem 0 .5rem; border: 1px solid var(--line); }
.hint { color: #3d434b; font-size: .95rem; margin: .15rem 0 0; font-weight: 400; }
input, select, textarea { font: inherit; color: inherit; width: 100%; padding: .6rem .7rem; min-height: 2.75rem; border: 1px solid var(--line); border-radius: 4px; background: #fff; }
input[type=file] { padding: .5rem; }
button { font: inherit; font-weight: 600; min-height: 2.75rem; padding: .6rem 1.2rem; border: 2px solid var(--ink); border-radius: 4px; background: var(--ink); color: #fff; cursor: pointer; }
button.quiet { background: #fff; color: var(--ink); font-weight: 400; }
button[disabled] { opacity: .6; cursor: default; }
.drop { border: 2px dashed var(--line); border-radius: 6px; padding: 1rem; background: var(--soft); }
.drop.over { border-color: var(--link); border-style: solid; }
.row { display: grid; gap: 0 1rem; grid-template-columns: repeat(auto-fit, minmax(14rem, 1fr)); }
.alert { border: 2px solid var(--fail); border-left-width: 10px; border-radius: 4px; padding: .75rem 1rem; margin: 0 0 1rem; }
.alert p { margin: 0; }
[hidden] { display: none; }
progress { width: 100%; height: 1rem; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: 600; padding: .25rem 0; }
th, td { min-width: 6.5rem; text-align: left; vertical-align: top; padding: .55rem .6rem .55rem 0; border-bottom: 1px solid #c9ced5; }
.symbol { flex: none; width: 1.25em; height: 1.25em; overflow: visible; }
.symbol .shape { fill: #fff; stroke: currentColor; stroke-width: 2; }
.symbol .sign { fill: none; stroke: currentColor; stroke-width: 2.6; stroke-linecap: round; stroke-linejoin: round; }
.symbol.fail { color: var(--fail); } .symbol.fail .shape { fill: var(--fail); } .symbol.fail .sign { stroke: #fff; }
.symbol.undetermined { color: var(--undetermined); } .symbol.pass { color: var(--pass); } .symbol.not-applicable { color: var(--not-applicable); }
.mark { display: inline-flex; gap: .4em; align-items: center; font-weight: 600; white-space: nowrap; }
.mark.fail { color: var(--fail); } .mark.undetermined { color: var(--undetermined); } .mark.pass { color: var(--pass); } .mark.not-applicable { color: var(--not-applicable); }
.verdict { border: 3px solid var(--ink); border-left-width: 14px; border-radius: 4px; padding: 1rem; margin: 0 0 1rem; font-size: 1.4rem; }
.verdict.fail { border-color: var(--fail); } .verdict.undetermined { border-color: var(--undetermined); border-style: dashed; border-left-style: solid; } .verdict.pass { border-color: var(--pass); }
.heat { border: 1px solid #c9ced5; border-radius: 6px; padding: .25rem 1rem 1rem; margin: 0 0 1rem; }
.heat h2 { margin-top: .75rem; display: flex; flex-wrap: wrap; gap: .25rem .8rem; }
.reasons { list-style: none; margin: 0; padding: 0; }
.reasons li { display: flex; gap: .6rem; margin: .5rem 0; }
.links { display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; padding: 0; margin: .5rem 0; list-style: none; }
.links a { display: inline-block; padding: .5rem 0; min-height: 2.75rem; }
pre { overflow: auto; background: var(--soft); padding: .75rem; font-size: .9rem; max-height: 24rem; }

dt { font-weight: 600; margin-top: .4rem; } dd { margin: 0 0 0 1rem; }
details { margin-top: .75rem; } summary { cursor: pointer; font-weight: 600; padding: .5rem 0; min-height: 2.75rem; }
@media (max-width: 40rem) {
  table, tbody, tr, td { display: block; } thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tr { border-bottom: 2px solid var(--line); padding: .5rem 0; } td { border: 0; padding: .15rem 0; }
  form > button:not(.quiet) { width: 100%; }
}
`;
