import { expect, test } from "vitest";
import { groupFindings } from "../../../core/report/finding-groups.js";
import { exampleReport } from "./example-report.js";

const [heat] = exampleReport.heats;
const [template] = heat!.findings;

test.each([
  ["C", "Chemistry"],
  ["Cu+Ni+Cr+Mo", "Chemistry"],
  ["Rm", "Tensile test"],
  ["A50", "Tensile test"],
  ["Z", "Tensile test"],
  ["HBW", "Hardness"],
  ["KV single", "Impact"],
  ["LE", "Impact"],
  ["PREN", "Computed from chemistry"],
  ["CE (IIW)", "Computed from chemistry"],
  ["document type", "Inspection document"],
  ["grade", "Grade"],
  ["consistency", "Consistency"],
  ["anything else", "Other"],
])("%s belongs to %s", (quantity, title) => {
  const groups = groupFindings({ ...heat!, readings: [], findings: [{ ...template!, quantity }] });
  expect(groups.map((group) => group.title)).toEqual([title]);
});

test("the zone of the readings decides where the finding states none", () => {
  const [group] = groupFindings({
    ...heat!,
    findings: [{ ...template!, quantity: "KV average", readings: [4, 5, 6] }],
  });
  expect(group?.title).toBe("Impact, heat-affected zone");
});

test("no finding is lost", () => {
  const grouped = groupFindings(heat!).flatMap(({ findings }) => findings);
  expect(new Set(grouped)).toEqual(new Set(heat!.findings));
  expect(grouped).toHaveLength(heat!.findings.length);
});
