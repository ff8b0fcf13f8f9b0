import { describe, expect, it } from "vitest";
import { designationKey, keyWithoutDelivery } from "../../../core/grades/designation.js";

describe("spellings of one designation", () => {
  it.each([
    ["Type 304 L", "304L"],
    ["Grade 304L", "304L"],
    ["GR. 304L", "304L"],
    ["Alloy 304L", "304L"],
    ["AISI 304L", "304L"],
    ["UNS S30403", "S30403"],
    ["W.-Nr. 1.4307", "1.4307"],
    ["W.Nr. 1.4307", "1.4307"],
    ["WNr. 1.4307", "1.4307"],
    ["Mat. No. 1.4307", "1.4307"],
    ["Mat.-No. 1.4307", "1.4307"],
    ["Material 1.4307", "1.4307"],
    ["Mat.-Nr. 1.4307", "1.4307"],
    ["SS 304L", "304L"],
    ["SS304L", "304L"],
    ["SS-316L", "316L"],
    ["SS 2333", "SS2333"],
    ["Steel: Grade X2CrNi18-9", "X2CRNI189"],
    ["X2 CrNi 18 9", "X2CRNI189"],
    ["304-l", "304L"],
    ["304__L", "304L"],
    ["LF2 Class 1", "LF2CL1"],
    ["LF2 CL.1", "LF2CL1"],
    ["S355 Gr. B", "S355GRB"],
    ["1.4307+AT", "1.4307+AT"],
    ["1.4307 +AT", "1.4307+AT"],
    ["Type-304L", "304L"],
    ["Type.304L", "304L"],
    ["Type: 304L", "304L"],
    ["Grades 304L", "304L"],
    ["GR 304L", "304L"],
    ["UNS: S30403", "S30403"],
    ["W NR 1.4307", "1.4307"],
    ["W-NR 1.4307", "1.4307"],
    ["W. -Nr 1.4307", "1.4307"],
    ["WNR 1.4307", "1.4307"],
    ["MatNo 1.4307", "1.4307"],
    ["Mat-No 1.4307", "1.4307"],
    ["Mat. -No. 1.4307", "1.4307"],
    ["MAT.NO.1.4307", "1.4307"],
    ["Werkstoff 1.4307", "1.4307"],
    ["Werkstoff-Nr. 1.4307", "1.4307"],
    ["Werkstoff Nr: 1.4307", "1.4307"],
    ["Werkstoffnummer 1.4307", "1.4307"],
    ["Nuance 1.4307", "1.4307"],
    ["LF2 Class1", "LF2CL1"],
    ["LF2 CL 1", "LF2CL1"],
    ["A Class 1 Class 2", "ACL1CL2"],
    ["S355 Grade B", "S355GRB"],
    ["S355 GR B", "S355GRB"],
    ["X GR A GR B", "XGRAGRB"],
  ])("%s has the key %s", (text, key) => expect(designationKey(text)).toBe(key));

  // Words that announce nothing where they stand.
  it.each([
    ["Type304L", "TYPE304L"],
    ["SType 304L", "STYPE304L"],
    ["X Type 304L", "XTYPE304L"],
    ["304L Type", "304LTYPE"],
    ["LF2 Class A", "LF2CLASSA"],
    ["Subclass 1", "SUBCLASS1"],
    ["Upgrade B", "UPGRADEB"],
    ["S355 Grade", "S355GRADE"],
  ])("%s keeps its words: %s", (text, key) => expect(designationKey(text)).toBe(key));

  it("keeps the dot that tells 1.4307 from 14307", () => {
    expect(designationKey("1.4307")).not.toBe(designationKey("14307"));
  });

  it.each<[key: string, plain: string | undefined]>([
    ["1.4307+AT", "1.4307"],
    ["S355J2+N", "S355J2"],
    ["P355GH+QT", "P355GH"],
    ["S355+NX", undefined],
    ["1.4307", undefined],
    ["+N", undefined],
    ["S355+N+Z", undefined],
    ...["AR", "AT", "N", "NT", "QT", "M", "A", "C", "U", "CR", "SR", "P", "H"].map((condition): [string, string] => [
      `S355+${condition}`,
      "S355",
    ]),
  ])("%s without its delivery condition: %s", (key, plain) => expect(keyWithoutDelivery(key)).toBe(plain));
});
