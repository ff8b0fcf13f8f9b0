import { describe, expect, test } from "vitest";
import { addressKind, addressProblem, STRICT_POLICY } from "../../../worker/webhooks/address-guard.js";

// Blocks of the IANA IPv4 and IPv6 special-purpose address registries, and the ways to write an IPv4 address inside IPv6.
const NEVER: readonly [string, string][] = [
  ["0.0.0.0", "this host (RFC 791)"],
  ["0.255.255.255", "this network"],
  ["10.0.0.1", "private (RFC 1918)"],
  ["100.64.0.1", "shared, carrier NAT (RFC 6598)"],
  ["100.127.255.255", "shared, last"],
  ["127.0.0.1", "loopback"],
  ["127.255.255.254", "loopback, last"],
  ["169.254.169.254", "link-local: instance metadata"],
  ["172.16.0.1", "private, first of 172"],
  ["172.31.255.255", "private, last of 172"],
  ["192.0.0.1", "protocol assignments (RFC 6890)"],
  ["192.0.2.1", "documentation 1"],
  ["192.88.99.1", "6to4 relay (RFC 7526)"],
  ["192.168.0.1", "private"],
  ["198.18.0.1", "benchmarking (RFC 2544)"],
  ["198.19.255.255", "benchmarking, last"],
  ["198.51.100.1", "documentation 2"],
  ["203.0.113.1", "documentation 3"],
  ["224.0.0.1", "multicast"],
  ["240.0.0.1", "reserved"],
  ["255.255.255.255", "broadcast"],
  ["::", "unspecified"],
  ["::1", "loopback"],
  ["::127.0.0.1", "IPv4-compatible, deprecated"],
  ["::ffff:127.0.0.1", "IPv4-mapped loopback"],
  ["::ffff:10.0.0.1", "IPv4-mapped private"],
  ["::ffff:a9fe:a9fe", "IPv4-mapped metadata, in hexadecimal"],
  ["::ffff:0:127.0.0.1", "IPv4-translated (RFC 2765)"],
  ["64:ff9b::127.0.0.1", "NAT64 (RFC 6052)"],
  ["64:ff9b::7f00:1", "NAT64, in hexadecimal"],
  ["64:ff9b:1::1", "local NAT64 (RFC 8215)"],
  ["100::1", "discard (RFC 6666)"],
  ["2001::1", "Teredo"],
  ["2001:2::1", "benchmarking"],
  ["2001:10::1", "ORCHID"],
  ["2001:20::1", "ORCHIDv2"],
  ["2001:db8::1", "documentation"],
  ["2002:7f00:1::", "6to4 of 127.0.0.1"],
  ["2002:a00:1::", "6to4 of 10.0.0.1"],
  ["3fff::1", "documentation (RFC 9637)"],
  ["5f00::1", "segment routing (RFC 9602)"],
  ["fc00::1", "unique local"],
  ["fdff::1", "unique local, last"],
  ["fe80::1", "link-local"],
  ["fe80::1%eth0", "link-local with a zone"],
  ["fec0::1", "site-local, deprecated"],
  ["ff02::1", "multicast"],
  ["", "nothing"],
  ["receiver.example", "a name, not an address"],
];

describe("addresses that are never called", () => {
  test.each(NEVER)("%s: %s", (address) => {
    expect(addressProblem(address, STRICT_POLICY)).toContain("address");
  });
});

test.each([
  "8.8.8.8",
  "9.255.255.255",
  "11.0.0.0",
  "100.63.255.255",
  "100.128.0.0",
  "172.15.255.255",
  "172.32.0.0",
  "192.0.1.0",
  "198.17.255.255",
  "198.20.0.0",
  "223.255.255.255",
  "2606:4700::1111",
  "2a00:1450::1",
  "::ffff:8.8.8.8",
])("%s, just outside, is called", (address) => {
  expect(addressProblem(address, STRICT_POLICY)).toBeUndefined();
});

test("each permission opens its own kind and no other", () => {
  const loopback = { ...STRICT_POLICY, loopback: true };
  const inside = { ...STRICT_POLICY, private: true };
  for (const address of ["127.0.0.1", "::1", "::ffff:127.0.0.1"]) {
    expect(addressProblem(address, loopback)).toBeUndefined();
    expect(addressProblem(address, inside)).toBeDefined();
  }
  for (const address of ["10.0.0.1", "192.168.3.4", "fd12::1"]) {
    expect(addressProblem(address, inside)).toBeUndefined();
    expect(addressProblem(address, loopback)).toBeDefined();
  }
  expect(
    addressProblem("169.254.169.254", { ...STRICT_POLICY, loopback: true, private: true, http: true }),
  ).toBeDefined();
  expect(addressKind("64:ff9b::10.0.0.1")).toBe("special");
});
