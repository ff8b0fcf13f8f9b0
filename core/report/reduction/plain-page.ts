import { CAUTIONS } from "../cautions.js";
import { style } from "../html/style.js";
import { type Html, html, htmlText, trustedMarkup } from "../html/template.js";

/** A page of tables and pictures without a verdict, in the look of the report. It needs no script and loads nothing. */
export function plainPage(title: string, body: Html): string {
  return htmlText(html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light">
<title>${title}</title>
<style>${trustedMarkup(style(undefined))}</style>
</head>
<body>
<header><h1>${title}</h1></header>
<main>
${body}
<section class="cautions"><ul><li>${CAUTIONS[0]}</li></ul></section>
</main>
</body>
</html>
`);
}
