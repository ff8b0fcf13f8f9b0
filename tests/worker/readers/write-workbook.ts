import { writeZip, type ZipPart } from "./write-zip.js";

export interface WorkbookText {
  /** What stands inside `<worksheet>`, one per sheet. */
  readonly sheets: readonly (string | ZipPart["content"])[];
  /** Inside `<sst>`. */
  readonly strings?: string | ZipPart["content"];
  /** Inside `<styleSheet>`. */
  readonly styles?: string;
  readonly from1904?: boolean;
  /** State of each sheet, "hidden" or left out. */
  readonly states?: readonly string[];
  readonly extraParts?: readonly ZipPart[];
}

const MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
const RELATIONS = 'xmlns="http://schemas.openxmlformats.org/package/2006/relationships"';
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/** A workbook from its XML, for what no workbook library would write. */
export function writeWorkbook(workbook: WorkbookText): Buffer {
  const { sheets, strings, styles, from1904, states = [], extraParts = [] } = workbook;
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${OFFICE}/${type}" Target="${target}"/>`;
  return writeZip([
    { name: "[Content_Types].xml", content: "<Types/>" },
    {
      name: "_rels/.rels",
      content: `<Relationships ${RELATIONS}>${relation("r1", "officeDocument", "xl/workbook.xml")}</Relationships>`,
    },
    {
      name: "xl/workbook.xml",
      content: `<workbook ${MAIN} xmlns:r="${OFFICE}"><workbookPr date1904="${from1904 ? 1 : 0}"/><sheets>${sheets
        .map(
          (_, index) =>
            `<sheet name="Sheet${index + 1}" sheetId="${index + 1}" r:id="s${index}" state="${states[index] ?? "visible"}"/>`,
        )
        .join("")}</sheets></workbook>`,
    },
    {
      name: "xl/_rels/workbook.xml.rels",
      content: `<Relationships ${RELATIONS}>${sheets
        .map((_, index) => relation(`s${index}`, "worksheet", `worksheets/sheet${index + 1}.xml`))
        .join(
          "",
        )}${relation("st", "styles", "styles.xml")}${relation("ss", "sharedStrings", "/xl/sharedStrings.xml")}</Relationships>`,
    },
    { name: "xl/styles.xml", content: `<styleSheet ${MAIN}>${styles ?? ""}</styleSheet>` },
    {
      name: "xl/sharedStrings.xml",
      content: typeof strings === "object" ? strings : `<sst ${MAIN}>${strings ?? ""}</sst>`,
    },
    ...sheets.map((sheet, index) => ({
      name: `xl/worksheets/sheet${index + 1}.xml`,
      content: typeof sheet === "string" ? `<worksheet ${MAIN}>${sheet}</worksheet>` : sheet,
    })),
    ...extraParts,
  ]);
}

/** Styles whose `cellXfs` are one per number format, in order. */
export function stylesOf(formats: readonly string[]): string {
  const escaped = formats.map((code) =>
    code.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;"),
  );
  return [
    `<numFmts>${escaped.map((code, index) => `<numFmt numFmtId="${200 + index}" formatCode="${code}"/>`).join("")}</numFmts>`,
    "<fonts><font/><font><b/></font><font><strike/></font></fonts>",
    `<cellXfs>${escaped.map((_, index) => `<xf numFmtId="${200 + index}" fontId="0"/>`).join("")}</cellXfs>`,
  ].join("");
}
