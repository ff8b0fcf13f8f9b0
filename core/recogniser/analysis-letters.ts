import type { Analysis } from "../certificate/certificate.js";
import type { Table } from "./cells.js";
import type { TitleReader } from "./title-reader.js";

/** Which analysis a letter stands for, as the paper itself explains: "L: ladle analysis, P: product analysis". By capitals. */
export type AnalysisLetters = ReadonlyMap<string, Analysis>;

const LONGEST_LEGEND = 160;
const EXPLAINED = /(?<![\p{L}\d])(\p{L}{1,3})\s*[:=–-]\s*([^,;:=]+)/gu;

export function findAnalysisLetters(tables: readonly Table[], titles: TitleReader): AnalysisLetters {
  const letters = new Map<string, Analysis>();
  const contradicted = new Set<string>();
  for (const { text } of tables.flatMap(({ cells }) => cells)) {
    if (text.length > LONGEST_LEGEND || !/[:=–-]/.test(text)) continue;
    for (const [, letter, meaning] of text.matchAll(EXPLAINED)) {
      const { analysis, rest } = titles.read(meaning!.trim());
      if (!analysis || rest !== "") continue;
      const name = letter!.toUpperCase();
      if ((letters.get(name) ?? analysis) !== analysis) contradicted.add(name);
      letters.set(name, analysis);
    }
  }
  for (const name of contradicted) letters.delete(name);
  return letters;
}
