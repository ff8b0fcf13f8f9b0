import type { Rule } from "./word.js";

/** Lines drawn nearer to each other than this are meant to be one. */
export const SNAP = 2.5;

/** Collinear pieces of one direction joined into whole lines; a line drawn twice, or dashed, becomes one. */
export function joinRules(rules: readonly Rule[], direction: Rule["direction"]): Rule[] {
  const sorted = rules.filter((rule) => rule.direction === direction).sort((left, right) => left.at - right.at);
  const lines: Rule[][] = [];
  for (const rule of sorted) {
    const line = lines.at(-1);
    if (line && rule.at - line[0]!.at <= SNAP) line.push(rule);
    else lines.push([rule]);
  }
  return lines.flatMap((line) => joinAlong(line));
}

function joinAlong(line: readonly Rule[]): Rule[] {
  const at = line.reduce((sum, rule) => sum + rule.at, 0) / line.length;
  const joined: { from: number; to: number }[] = [];
  for (const { from, to } of [...line].sort((left, right) => left.from - right.from)) {
    const last = joined.at(-1);
    if (last && from - last.to <= 2 * SNAP) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined.map((piece) => ({ direction: line[0]!.direction, at, ...piece }));
}
