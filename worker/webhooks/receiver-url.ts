import { isIP } from "node:net";
import { addressKind, addressProblem, type ReceiverPolicy } from "./address-guard.js";

/**
 * What is wrong with a callback address, as far as can be said without asking the name service; undefined when nothing is.
 * Names are resolved, and their addresses held to the policy, at every single try.
 */
export function receiverUrlProblem(text: string, policy: ReceiverPolicy): string | undefined {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (!url) return "It is not an absolute URL.";
  if (url.protocol !== "https:" && url.protocol !== "http:") return "Only https is spoken.";
  if (url.username || url.password) return "It must not carry a user name or password; deliveries are signed instead.";
  if (url.hash) return "It must not carry a fragment.";

  const host = hostOf(url);
  if (isIP(host)) {
    const problem = addressProblem(host, policy);
    if (problem) return `${problem}, which this service does not call.`;
  }
  const onThisMachine = isOnThisMachine(host);
  if (onThisMachine && !policy.loopback) return "It names this machine, which this service does not call.";
  if (onThisMachine) return undefined;

  if (url.protocol === "http:" && !policy.http) return "Only https is spoken.";
  const port = Number(url.port || (url.protocol === "https:" ? 443 : 80));
  const ports = policy.http ? [...policy.ports, 80] : policy.ports;
  if (!ports.includes(port)) return `Port ${port} is not one of ${ports.join(", ")}.`;
  return undefined;
}

/** Without the brackets that a URL puts around IPv6, and without the dot of a rooted name. */
function hostOf(url: URL): string {
  return url.hostname.replace(/^\[|\]$/g, "").replace(/\.$/, "");
}

function isOnThisMachine(host: string): boolean {
  return host === "localhost" || host.endsWith(".localhost") || (isIP(host) !== 0 && addressKind(host) === "loopback");
}
