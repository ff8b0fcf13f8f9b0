import { collectDefaultMetrics, Gauge, Registry } from "prom-client";
import { programVersion } from "./program-version.js";

/** What every process of ours tells of itself, whichever part it plays. */
export function createRegistry(): Registry {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  new Gauge({
    name: "heatgate_build_info",
    help: "Always 1; the labels say which program runs.",
    labelNames: ["version", "node"],
    registers: [registry],
  }).set({ version: programVersion(), node: process.version }, 1);
  return registry;
}
