import { expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const told = (titles: string, values: string) =>
  tell(recognise(drawDocument(`Heat | ${titles}\nH4471 | ${values}`), 0));

test("a temperature between tensile and impact values is that of the impact test", () => {
  expect(told("Rm MPa | A50 % | HBW | Temp. °C | KV J", "618 | 52 | 170 | -196 | 90")).toEqual([
    "H4471: Rm 618 MPa",
    "H4471: A50 52 %",
    "H4471: HBW 170 HBW",
    "H4471: KV 90 J -196 °C",
  ]);
});

test.each([
  ["before both", "Temp. °C | Rm MPa | KV J", "-196 | 1418 | 90"],
  ["behind both", "Rm MPa | KV J | Temp. °C", "1418 | 90 | -196"],
  ["before a second tensile value", "Rm MPa | Temp. °C | A50 % | KV J", "1418 | -196 | 38 | 90"],
  ["in a row without impact values", "Rm MPa | A50 % | Temp. °C", "1418 | 38 | -196"],
])("a temperature %s is that of the row", (_, titles, values) => {
  for (const line of told(titles, values)) expect(line).toContain("-196 °C");
});
