import type { Request, RequestHandler, Response } from "express";
import type { KeyRecord, Keys, Scope } from "../../worker/store/keys.js";
import { Problem } from "../problems.js";

/**
 * The cookie of the pages. Over https its name begins so that browsers take it only from this very host, over https: a sibling host under
 * the same domain could else put in a key of its own, and what is handed in would go to that key's client.
 */
export function sessionCookie(publicUrl: string): string {
  return publicUrl.startsWith("https:") ? "__Host-heatgate_key" : "heatgate_key";
}

/**
 * Finds out whose request it is, from a bearer key or, for the pages of this service, from the cookie that holds one.
 * Everything behind it can rely on `holderOf`.
 */
export function authenticate(keys: Keys, cookie: string): RequestHandler {
  return async (request, response, next) => {
    const given = givenKey(request, cookie);
    if (!given) throw new Problem("key-missing", { headers: { "WWW-Authenticate": CHALLENGE } });
    if (given.from === "cookie") refuseOtherSites(request);
    const holder = await keys.authenticate(given.key);
    if (!holder)
      throw new Problem("key-unknown", { headers: { "WWW-Authenticate": `${CHALLENGE}, error="invalid_token"` } });
    response.locals.holder = holder;
    next();
  };
}

/** Stands before every handler of a route. */
export function needs(scope: Scope): RequestHandler {
  return (_request, response, next) => {
    if (!holderOf(response).scopes.includes(scope)) {
      throw new Problem("scope-missing", { detail: `The scope ${scope} is needed.` });
    }
    next();
  };
}

export function holderOf(response: Response): KeyRecord {
  const { holder } = response.locals as { readonly holder?: KeyRecord };
  if (!holder) throw new Error("a route that asks whose request it is stands before the authentication");
  return holder;
}

const CHALLENGE = 'Bearer realm="heatgate"';

function givenKey(
  request: Request,
  name: string,
): { readonly key: string; readonly from: "header" | "cookie" } | undefined {
  const bearer = /^Bearer +(\S+)$/i.exec(request.get("Authorization") ?? "")?.[1];
  if (bearer !== undefined) return { key: bearer, from: "header" };
  const cookie = new RegExp(`(?:^|; )${name}=([^;]+)`).exec(request.get("Cookie") ?? "")?.[1];
  return cookie === undefined ? undefined : { key: cookie, from: "cookie" };
}

/**
 * A cookie travels by itself, so another site's page could use it. The cookie is SameSite=Strict; this second fence also
 * holds where a sibling host under the same domain is not to be trusted.
 */
export function refuseOtherSites(request: Request): void {
  if (request.method === "GET" || request.method === "HEAD") return;
  const site = request.get("Sec-Fetch-Site");
  // Browsers leave Sec-Fetch-Site out where the page came by plain http; Origin they send with every POST.
  const isOurs = site === undefined ? isOwnOrigin(request) : site === "same-origin";
  if (!isOurs) throw new Problem("cross-site");
}

function isOwnOrigin(request: Request): boolean {
  const origin = request.get("Origin") ?? "";
  return URL.canParse(origin) && new URL(origin).host === request.get("Host");
}
