import type { Command } from "./terminal.js";

interface Entry {
  readonly summary: string;
  /** Loaded when called for: judging a certificate should not wait for a database driver. */
  load(): Promise<Command>;
}

/** Every command of `heatgate`, in the order in which --help lists them. */
export const COMMANDS: Readonly<Record<string, Entry>> = {
  check: {
    summary: "judge documents, heat by heat, and report",
    load: async () => (await import("./check.js")).check,
  },
  reduce: {
    summary: "reduce raw tensile curves and impact records, with the work shown",
    load: async () => (await import("./reduce.js")).reduce,
  },
  compare: {
    summary: "put heats and grades side by side at the service temperature",
    load: async () => (await import("./compare.js")).compare,
  },
  history: {
    summary: "follow carbon, Rp0.2 and impact energy over time for each mill, with control limits",
    load: async () => (await import("./history.js")).history,
  },
  match: {
    summary: "find every grade of the library that each heat meets, misses or leaves open",
    load: async () => (await import("./match.js")).match,
  },
  key: {
    summary: "make, list and revoke API keys",
    load: async () => (await import("./key.js")).key,
  },
  audit: {
    summary: "verify that the audit trail is whole and unchanged",
    load: async () => (await import("./audit.js")).audit,
  },
  erase: {
    summary: "erase a submission for good, with its documents, and write down who asked for it and why",
    load: async () => (await import("./erase.js")).erase,
  },
  signing: {
    summary: "sign a revoked key's reports again, or start over with a new sealing key",
    load: async () => (await import("./signing.js")).signing,
  },
  verify: {
    summary: "check offline that a report is the one a service signed",
    load: async () => (await import("./verify.js")).verify,
  },
  grades: {
    summary: "list, show, confirm and validate the limits that heats are held to",
    load: async () => (await import("./grades-command.js")).grades,
  },
};
