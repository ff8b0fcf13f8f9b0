import { mkdtemp, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { Certificate } from "../../core/certificate/certificate.js";
import { joinHeats } from "../../core/certificate/join-heats.js";
import type { Measure } from "../../core/quantity/measure.js";
import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { comparableHeat } from "../../core/report/compare/comparable-heat.js";
import { renderComparisonHtml } from "../../core/report/compare/compare-html.js";
import { compareMaterials } from "../../core/report/compare/compare-materials.js";
import { renderComparisonText } from "../../core/report/compare/compare-text.js";
import type { Comparison } from "../../core/report/compare/comparison.js";
import { parseMeasure } from "../../core/requirement/parse-measure.js";
import type { GivenDocument } from "../jobs/verify-documents.js";
import { createReader } from "../readers/read-document.js";
import { faceNamed, putOut } from "./face-option.js";
import { gatherDocuments } from "./gather-documents.js";
import { readRequirement } from "./read-requirement.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const FACES: Readonly<Record<string, (comparison: Comparison) => string>> = {
  text: renderComparisonText,
  json: (comparison) => `${JSON.stringify(comparison, undefined, 2)}\n`,
  html: renderComparisonHtml,
};

const COMPARE_USAGE = `Usage: heatgate compare <documents...> --service-temperature "-196 °C" [--requirement file] [--format name] [--output path]

Puts heats and grades side by side at the service temperature: strength, elongation, toughness, toughness of welds.
Certificates, laboratory sheets and raw records (which are reduced) may be mixed; values are joined by heat.

  <documents...>                   files, folders, patterns, or - for standard input
  -t, --service-temperature text   with its unit: "-196 °C", "77 K", "-320 °F"
  -r, --requirement file           the project's minimums (JSON)
  -f, --format name                ${Object.keys(FACES).join(", ")} (default: text)
  -o, --output path                write there instead of to standard output
  -h, --help                       this text

Between tested temperatures values are interpolated; beyond them nothing is claimed. This command judges nothing:
heats are accepted by heatgate check.

Exit codes: 0 something could be compared; 2 usage or internal error; 3 nothing is known at the service temperature.`;

/** Which material does what at the service temperature. */
export const compare: Command = {
  usage: COMPARE_USAGE,
  async run(args, terminal) {
    const options = readOptions(args);
    const requirement = options.requirement === undefined ? null : await readRequirement(options.requirement, terminal);
    const scratchFolder = await mkdtemp(join(tmpdir(), "heatgate-compare-"));
    try {
      const documents = await gatherDocuments(options.documents, terminal, scratchFolder);
      const certificates = await readCertificates(documents, terminal);
      const { heats } = joinHeats(certificates.map((certificate, document) => ({ document, certificate })));
      const comparison = compareMaterials(heats.map(comparableHeat), options.service, requirement);
      await putOut(options.face(comparison), options.output, terminal);
      const known = comparison.properties.some(({ rows }) => rows.some(({ atService }) => "value" in atService));
      return known ? EXIT.pass : EXIT.undetermined;
    } finally {
      await rm(scratchFolder, { recursive: true, force: true });
    }
  },
};

function readOptions(args: readonly string[]) {
  const { values, positionals } = parseArgs({
    args: withTemperatureAttached(args),
    allowPositionals: true,
    options: {
      "service-temperature": { type: "string", short: "t" },
      requirement: { type: "string", short: "r" },
      format: { type: "string", short: "f", default: "text" },
      output: { type: "string", short: "o" },
    },
  });
  if (positionals.length === 0) throw new UsageError("name at least one document.");
  const face = faceNamed(FACES, values.format);
  const { requirement, output } = values;
  return {
    documents: positionals,
    service: serviceTemperature(values["service-temperature"]),
    face,
    ...(requirement !== undefined && { requirement }),
    output,
  };
}

/** parseArgs takes a value that begins with a minus for an option; temperatures of this trade all begin with one. */
function withTemperatureAttached(args: readonly string[]): string[] {
  const attached: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const isOption = args[i] === "--service-temperature" || args[i] === "-t";
    if (isOption && args[i + 1] !== undefined) attached.push(`--service-temperature=${args[++i]}`);
    else attached.push(args[i]!);
  }
  return attached;
}

function serviceTemperature(text: string | undefined): Measure {
  const measure = text === undefined ? undefined : parseMeasure(text, "temperature");
  if (!measure) throw new UsageError('give the service temperature with its unit: --service-temperature "-196 °C".');
  return measure;
}

/** A document that cannot be read is said and left out: the others can still be compared. */
async function readCertificates(documents: readonly GivenDocument[], { stderr }: Terminal): Promise<Certificate[]> {
  const reader = createReader({ children: Math.min(documents.length, availableParallelism()) });
  try {
    return await Promise.all(
      documents.map(async ({ name, mediaType, path }, position) => {
        const result = await reader.read(path, { name, mediaType });
        if (result.ok) return readCertificate(result.document, position);
        await write(stderr, `${name} can't be read: ${result.problem.message}\n`);
        return { heats: [], doubts: [] };
      }),
    );
  } finally {
    await reader.close();
  }
}
