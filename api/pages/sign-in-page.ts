import { html } from "../../core/report/html/template.js";
import { layout } from "./layout.js";

/** `problem`: why the key that was just given did not do. */
export function signInPage(problem?: string): string {
  const body = html`${problem && html`<div class="alert" role="alert"><p>${problem}</p></div>`}
<form method="post" action="/session">
<div class="field">
<label for="key">API key</label>
<input id="key" name="key" type="password" autocomplete="current-password" required aria-describedby="key-hint">
<p class="hint" id="key-hint">It begins with hg_live_. It is kept by this browser until you sign out, at the latest for twelve hours.</p>
</div>
<button>Sign in</button>
</form>`;
  return layout("Sign in", body, { isSignedIn: false });
}
