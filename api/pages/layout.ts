import { type Html, html, htmlText } from "../../core/report/html/template.js";

/** Every page of this service: one heading, landmarks, a way past the head, and no more than one style and one script. */
export function layout(
  title: string,
  body: Html,
  options: { readonly isSignedIn: boolean; readonly head?: Html },
): string {
  return htmlText(html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title} – Heatgate</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/page.css">
<script src="/page.js" defer></script>
${options.head}
</head>
<body>
<a class="skip" href="#main">To the content</a>
<header>
<a class="home" href="/">Heatgate</a>
<nav aria-label="Service"><a href="/docs">API</a>${
    options.isSignedIn && html`<form method="post" action="/session/end"><button class="quiet">Sign out</button></form>`
  }</nav>
</header>
<main id="main">
<h1>${title}</h1>
${body}
</main>
</body>
</html>
`);
}
