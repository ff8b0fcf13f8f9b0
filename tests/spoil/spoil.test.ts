import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { normaliseHeatNumber } from "../../core/certificate/join-heats.js";
import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { buildReport } from "../../core/report/build-report.js";
import type { Report } from "../../core/report/report.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import { loadLibrary } from "../../worker/store/grade-files.js";
import { seededRandom } from "../faults/random.js";
import { SAMPLES_FOLDER } from "../samples/make-samples.js";
import { asRows, readHere } from "../worker/readers/read-in-process.js";
import { generate } from "./generate.js";
import { type Grid, writeCsv } from "./grid.js";
import { INDISTINGUISHABLE, MUTATIONS, type Mutation, type Pick } from "./mutate.js";

/** `npm run spoil` goes further; a seed that fails is run alone with HEATGATE_SPOIL_FROM and a count of 1. */
const COUNT = Number(process.env.HEATGATE_SPOIL ?? 45);
const FROM = Number(process.env.HEATGATE_SPOIL_FROM ?? 1);
const SEEDS = Array.from({ length: COUNT }, (_, index) => FROM + index);
/** Enough for the long run. */
const TIMEOUT_MS = 60_000 + COUNT * 500;

interface Original {
  readonly name: string;
  readonly grids: readonly Grid[];
  readonly requirement: Requirement | null;
  /** Heats that fail. */
  readonly bad: readonly string[];
}

const library = await loadLibrary();
const samples = await readSamples();

test("there are samples and generated documents to mutate, and their bad heats fail", async () => {
  expect(samples.map(({ name }) => name)).toContain("carbon-too-high");
  expect(samples.length).toBeGreaterThanOrEqual(4);
  for (const seed of SEEDS.slice(0, 5)) {
    const { grids, bad } = generate(pickBy(seed));
    expect(failing(await judge(grids, null))).toEqual([...bad.keys()]);
  }
});

test.each(MUTATIONS)(
  "$name: no heat that fails passes",
  async (mutation) => {
    let applied = 0;
    for (const seed of SEEDS) {
      const { passed, wasApplied, shown } = await passedAfter(mutation, seed);
      if (wasApplied) applied++;
      expect(passed, shown).toEqual([]);
    }
    expect(applied).toBeGreaterThan(COUNT / 10);
  },
  TIMEOUT_MS,
);

test.each(INDISTINGUISHABLE)(
  "$name: counted, because $because",
  async (mutation) => {
    let turned = 0;
    for (const seed of SEEDS) {
      const { passed } = await passedAfter(mutation, seed);
      if (passed.length > 0) turned++;
    }
    if (COUNT > 100) process.stderr.write(`${mutation.name}: ${turned} of ${COUNT} turned into a pass\n`);
    expect(turned).toBeLessThan(COUNT);
  },
  TIMEOUT_MS,
);

async function passedAfter(mutation: Mutation, seed: number) {
  const pick = pickBy(seed);
  const original = pick([true, false]) ? generated(pick) : pick(samples)!;
  const at = pick(original.grids.map((_, index) => index))!;
  const mutated = mutation.apply(original.grids[at]!, pick);
  if (!mutated) return { passed: [], wasApplied: false, shown: "" };
  const grids = original.grids.map((grid, index) => (index === at ? mutated : grid));
  const report = await judge(grids, original.requirement);
  const passed = report.heats
    .filter(({ verdict }) => verdict === "pass")
    .map(({ heat }) => normaliseHeatNumber(heat))
    .filter((heat) => original.bad.includes(heat));
  return { passed, wasApplied: true, shown: `seed ${seed}, ${original.name}:\n${grids.map(writeCsv).join("\n")}` };
}

function generated(pick: Pick): Original {
  const { grids, bad } = generate(pick);
  return { name: "generated", grids, requirement: null, bad: [...bad.keys()] };
}

function pickBy(seed: number): Pick {
  const random = seededRandom(seed);
  return (items) => items[Math.floor(random() * items.length)];
}

/** The whole way from bytes to report, without the child process. */
async function judge(grids: readonly Grid[], requirement: Requirement | null): Promise<Report> {
  const documents = await Promise.all(
    grids.map(async (grid, position) => {
      const document = await readHere(writeCsv(grid));
      const certificate = readCertificate(document, position);
      const content = { kind: "certificate", certificate } as const;
      return { name: `${position}.csv`, sha256: String(position).repeat(64), reader: document.reader, content };
    }),
  );
  const named = requirement && { value: requirement, digest: "sha256:0" };
  return buildReport({ documents, requirement: named, library });
}

function failing({ heats }: Report): string[] {
  return heats.filter(({ verdict }) => verdict === "fail").map(({ heat }) => normaliseHeatNumber(heat));
}

/** Every sheet as a document of its own. Only what still fails, written as CSV, is of use. */
async function readSamples(): Promise<Original[]> {
  const found: Original[] = [];
  for (const entry of await readdir(SAMPLES_FOLDER, { withFileTypes: true })) {
    if (!entry.isDirectory()) continue;
    const folder = join(SAMPLES_FOLDER, entry.name);
    const names = (await readdir(folder)).sort();
    const read = async (name: string) => JSON.parse(await readFile(join(folder, name), "utf8"));
    const requirement = names.includes("requirement.json") ? ((await read("requirement.json")) as Requirement) : null;
    const grids: Grid[] = [];
    for (const name of names.filter((file) => /\.(csv|xlsx)$/.test(file))) {
      const { tables } = await readHere(await readFile(join(folder, name)));
      grids.push(...tables.filter(({ hidden }) => !hidden).map(({ cells }) => asRows(cells)));
    }
    const bad = grids.length === 0 ? [] : failing(await judge(grids, requirement));
    if (bad.length > 0) found.push({ name: entry.name, grids, requirement, bad });
  }
  return found;
}
