import { describe, expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { buildReport } from "../../../core/report/build-report.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { drawDocument } from "../recogniser/draw-table.js";

const library = await loadLibrary();

const judge = (...rows: string[]) =>
  buildReport({
    documents: [
      {
        name: "paper.csv",
        sha256: "0".repeat(64),
        reader: "csv",
        content: {
          kind: "certificate",
          certificate: recognise(
            drawDocument(`
Material | ASTM A240 304L | Product | Plate 12 mm

Heat | Analysis | C | Si | Mn | P | S | Cr | Ni | N
H4471 | heat | 0.021 | 0.45 | 1.52 | 0.031 | 0.002 | 18.12 | 8.09 | 0.071
${rows.join("\n")}

Heat | Rp0.2 [MPa] | Rm [MPa] | A50 [%] | HBW
H4471 | 291 | 618 | 55 | 171`),
            0,
          ),
        },
      },
    ],
    requirement: null,
    library,
  });

const outcomesOf = (report: ReturnType<typeof judge>) =>
  report.heats.map(({ heat, verdict, findings }) => [
    heat,
    verdict,
    findings.filter(({ outcome }) => outcome === "undetermined").map(({ quantity }) => quantity),
  ]);

describe("results of a heat whose name is nearly the same", () => {
  test.each([
    ["H447l", "0.036", "undetermined", ["C"]],
    ["H447l", "0.022", "pass", []],
    ["H4471/2", "0.036", "undetermined", ["C"]],
    ["H4472", "0.036", "pass", []],
  ])("%s with carbon %s: H4471 is %s", (name, carbon, verdict, open) => {
    const report = judge(`${name} | product | ${carbon} | 0.45 | 1.52 | 0.031 | 0.002 | 18.12 | 8.09 | 0.071`);
    expect(outcomesOf(report)[0]).toEqual(["H4471", verdict, open]);
    const message = report.heats[0]!.findings.find(({ quantity }) => quantity === "C")?.message ?? "";
    if (open.length > 0) expect(message).toContain(`"0.036" for C was read for ${name}, which may be this heat`);
  });
});

describe("results whose heat could not be read", () => {
  test("keep a heat of the paper from passing where they would not pass as its own", () => {
    const report = judge("?? | product | 0.036 | 0.45 | 1.52 | 0.031 | 0.002 | 18.12 | 8.09 | 0.071");
    expect(report.verdict).toBe("undetermined");
    expect(outcomesOf(report)[0]).toEqual(["H4471", "undetermined", ["C"]]);
    expect(report.heats[0]!.findings.find(({ quantity }) => quantity === "C")?.message).toMatch(
      /"0\.036" for C could be given to no heat/,
    );
  });

  test("leave it its pass where they too would pass, and the submission undetermined", () => {
    const report = judge("?? | product | 0.022 | 0.45 | 1.52 | 0.031 | 0.002 | 18.12 | 8.09 | 0.071");
    expect(report.verdict).toBe("undetermined");
    expect(outcomesOf(report)[0]).toEqual(["H4471", "pass", []]);
    expect(report.heats[1]).toMatchObject({ heat: "heat not stated", verdict: "undetermined" });
  });

  test("are none where a footer stands under the table", () => {
    const report = judge("Total weight kg | | 5600");
    expect(report.verdict).toBe("pass");
    expect(outcomesOf(report)).toEqual([["H4471", "pass", []]]);
  });
});
