import ipaddr from "ipaddr.js";
import { Problem } from "../problems.js";

export interface CallbackRules {
  /** Ports that callbacks may go to. */
  readonly ports: readonly number[];
  /** Host names and addresses that are let through as they are, http included: receivers on the same site. */
  readonly trustedHosts: readonly string[];
}

/**
 * Refuses at once what can be seen from the address alone. What a host name resolves to is checked where it counts, at
 * each delivery: between now and then the name can be pointed elsewhere.
 */
export function checkCallbackUrl(text: string, rules: CallbackRules): void {
  const url = parseUrl(text);
  // A URL keeps the brackets of an IPv6 address and a closing dot; both name the same host.
  const host = url.hostname.replace(/^\[|\]$/g, "").replace(/\.$/, "");
  if (url.username !== "" || url.password !== "") throw refused("The address carries a user name or a password.");
  if (rules.trustedHosts.includes(host)) return;
  if (url.protocol !== "https:") throw refused("Only https is called.");
  const port = url.port === "" ? 443 : Number(url.port);
  if (!rules.ports.includes(port)) throw refused(`Only the ports ${rules.ports.join(" and ")} are called.`);
  if (ipaddr.isValid(host) && ipaddr.process(host).range() !== "unicast")
    throw refused(`${host} is not a public address.`);
  if (/(^|\.)(localhost|local|internal)$/i.test(host)) throw refused(`${host} is not a public host name.`);
}

function parseUrl(text: string): URL {
  try {
    return new URL(text);
  } catch {
    throw refused("The address is not a URL.");
  }
}

function refused(detail: string): Problem {
  return new Problem("callback-refused", { detail, errors: [{ pointer: "/url", detail }] });
}
