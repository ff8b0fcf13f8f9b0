import ipaddr from "ipaddr.js";

/** What this installation lets webhooks reach beyond the open internet by https. Nothing, unless an operator says so. */
export interface ReceiverPolicy {
  /** Receivers on this machine, http included. For the demo and for tests. */
  readonly loopback: boolean;
  /** Private addresses (RFC 1918, fc00::/7): receivers in one's own network. */
  readonly private: boolean;
  /** Plain http where the address is allowed otherwise. */
  readonly http: boolean;
  readonly ports: readonly number[];
}

export const STRICT_POLICY: ReceiverPolicy = { loopback: false, private: false, http: false, ports: [443, 8443] };

/** Why this address must not be connected to; undefined when it may. */
export function addressProblem(address: string, policy: ReceiverPolicy): string | undefined {
  const kind = addressKind(address);
  if (kind === "public") return undefined;
  if (kind === "loopback" && policy.loopback) return undefined;
  if (kind === "private" && policy.private) return undefined;
  return `${address} is ${kind === "special" ? "a special-purpose" : `a ${kind}`} address`;
}

export function addressKind(address: string): "public" | "loopback" | "private" | "special" {
  if (!ipaddr.isValid(address)) return "special";
  // An IPv4 address in IPv6 clothes (::ffff:127.0.0.1) goes where the IPv4 address goes.
  const parsed = ipaddr.process(address);
  const range = parsed.range();
  if (range === "loopback") return "loopback";
  if (range === "private" || range === "uniqueLocal") return "private";
  if (range !== "unicast") return "special";
  if (parsed instanceof ipaddr.IPv6) return isGlobalUnicast(parsed) ? "public" : "special";
  return SPECIAL_IPV4.some((block) => parsed.match(block)) ? "special" : "public";
}

/** Everything outside 2000::/3 is special, which covers ::127.0.0.1, NAT64, 5f00::/16 and whatever is assigned next. */
function isGlobalUnicast(address: ipaddr.IPv6): boolean {
  return address.match(GLOBAL_UNICAST) && !SPECIAL_IPV6.some((block) => address.match(block));
}

const GLOBAL_UNICAST = ipaddr.IPv6.parseCIDR("2000::/3");

// From the IANA special-purpose registries, named here although the library knows most of them: its list may change.
const SPECIAL_IPV6 = ["2001::/23", "2001:db8::/32", "2002::/16", "3fff::/20"].map((block) =>
  ipaddr.IPv6.parseCIDR(block),
);
const SPECIAL_IPV4 = [
  "0.0.0.0/8",
  "100.64.0.0/10",
  "169.254.0.0/16",
  "192.0.0.0/24",
  "192.0.2.0/24",
  "192.88.99.0/24",
  "198.18.0.0/15",
  "198.51.100.0/24",
  "203.0.113.0/24",
  "224.0.0.0/4",
  "240.0.0.0/4",
].map((block) => ipaddr.IPv4.parseCIDR(block));
