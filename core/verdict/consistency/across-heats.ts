import type { NumberedReading } from "../../certificate/certificate.js";
import type { Judgement } from "../judgement.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";
import { printedAnalyses } from "./copied-analyses.js";
import { printedTests } from "./copied-tests.js";
import type { Printed } from "./printed.js";

interface NamedHeat {
  readonly heat: string;
  readonly readings: readonly NumberedReading[];
}

/**
 * Two melts do not agree to the last digit in a whole analysis or a whole test: more often a line was copied.
 * By heat: what is said of it. Each heat's finding rests on its own readings, so a report shows both places.
 */
export function acrossHeatsContradictions(heats: readonly NamedHeat[]): ReadonlyMap<string, readonly Judgement[]> {
  const said = new Map<string, Judgement[]>();
  const say = (what: "analysis" | "results", { heat, readings, others, unnamed }: Copy) => {
    const values = readings.map((reading) => `${reading.quantity} ${reading.printed}`).join(", ");
    const verb = what === "analysis" ? "is" : "are";
    const text = `the ${what} ${values} ${verb} the same as ${verb === "is" ? "that" : "those"} of heat ${others.join(", ")}${unnamed > 0 ? ` and of ${unnamed} more` : ""}`;
    said.set(heat, [...(said.get(heat) ?? []), contradiction(text, readings, COMMON_PRACTICE)]);
  };
  for (const copy of copies(heats, printedTests)) say("results", copy);
  for (const copy of copies(heats, printedAnalyses)) say("analysis", copy);
  return said;
}

interface Copy extends NamedHeat {
  readonly others: readonly string[];
  /** How many others there are besides. */
  readonly unnamed: number;
}

/** A page of the same line, a thousand times, must not name a thousand heats a thousand times. */
const NAMED = 10;

/** What is printed alike for more than one heat, once for each of them. */
function copies(heats: readonly NamedHeat[], printed: (readings: NamedHeat["readings"]) => readonly Printed[]): Copy[] {
  const groups = new Map<string, NamedHeat[]>();
  for (const { heat, readings } of heats) {
    for (const [key, alike] of printed(readings)) {
      const group = groups.get(key);
      if (group) group.push({ heat, readings: alike });
      else groups.set(key, [{ heat, readings: alike }]);
    }
  }
  return [...groups.values()].flatMap((group) => {
    const names = [...new Set(group.map(({ heat }) => heat))];
    if (names.length < 2) return [];
    const first = names.slice(0, NAMED + 1);
    return group.map((one) => {
      const others = first.filter((name) => name !== one.heat).slice(0, NAMED);
      return { ...one, others, unnamed: names.length - 1 - others.length };
    });
  });
}
