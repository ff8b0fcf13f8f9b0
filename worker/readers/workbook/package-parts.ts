import { ReadFailure } from "../problem.js";
import { createXmlFeed, type XmlHandlers } from "../xml.js";
import type { Archive } from "./archive.js";

export interface WorkbookParts {
  readonly sheets: readonly { readonly name: string; readonly part: string; readonly hidden: boolean }[];
  readonly styles?: string;
  readonly sharedStrings?: string;
  /** Days count from 1904-01-01. */
  readonly from1904: boolean;
}

/** Follows the package's own relations to the workbook and its sheets; fixed names are a habit of one program only. */
export async function findWorkbookParts(archive: Archive): Promise<WorkbookParts> {
  if (!archive.names.includes("[content_types].xml")) throw explainForeignArchive(archive);
  const office = (await readRelations(archive, "")).find(({ type }) => type === "officeDocument");
  if (!office || !/\.xml$/i.test(office.target)) throw explainForeignArchive(archive);

  const relations = await readRelations(archive, office.target);
  const sheets: { name: string; id: string; hidden: boolean }[] = [];
  let root = "";
  let from1904 = false;
  await readXmlPart(archive, office.target, {
    open(name, attributes) {
      root ||= name;
      if (name === "workbookPr") from1904 = /^(1|true)$/.test(attributes.date1904 ?? "");
      if (name === "sheet") {
        const id = attributes["r:id"] ?? Object.entries(attributes).find(([key]) => key.endsWith(":id"))?.[1] ?? "";
        sheets.push({ name: attributes.name ?? "", id, hidden: /hidden/i.test(attributes.state ?? "") });
      }
    },
  });
  if (root !== "workbook") throw new ReadFailure("unsupported-type", "This is an Office document but not a workbook.");

  const partOf = (type: string) => relations.find((relation) => relation.type === type)?.target;
  const styles = partOf("styles");
  const sharedStrings = partOf("sharedStrings");
  return {
    from1904,
    ...(styles ? { styles } : {}),
    ...(sharedStrings ? { sharedStrings } : {}),
    sheets: sheets.flatMap(({ name, id, hidden }) => {
      const relation = relations.find((candidate) => candidate.id === id && candidate.type === "worksheet");
      return relation ? [{ name, part: relation.target, hidden }] : [];
    }),
  };
}

/** False where there is no such part. */
export async function readXmlPart(archive: Archive, part: string, handlers: XmlHandlers): Promise<boolean> {
  const feed = createXmlFeed(handlers);
  const found = await archive.readPart(part, (chunk) => feed.write(chunk));
  if (found) feed.end();
  return found;
}

export interface Relation {
  readonly id: string;
  /** The last word of the type's name: the strict and the transitional form differ only before it. */
  readonly type: string;
  readonly target: string;
}

/** What a part names as belonging to it; "" stands for the package itself. */
export async function readRelations(archive: Archive, part: string): Promise<Relation[]> {
  const folder = part.slice(0, part.lastIndexOf("/") + 1);
  const relations: Relation[] = [];
  await readXmlPart(archive, `${folder}_rels/${part.slice(folder.length)}.rels`, {
    open(name, { Id = "", Type = "", Target = "", TargetMode }) {
      if (name !== "Relationship" || TargetMode === "External") return;
      relations.push({ id: Id, type: Type.slice(Type.lastIndexOf("/") + 1), target: resolvePart(folder, Target) });
    },
  });
  return relations;
}

function resolvePart(folder: string, target: string): string {
  if (target.startsWith("/")) return target.slice(1);
  const steps: string[] = [];
  for (const step of `${folder}${target}`.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== ".") steps.push(step);
  }
  return steps.join("/");
}

function explainForeignArchive({ names }: Archive): ReadFailure {
  if (names.some((name) => name.startsWith("word/"))) {
    return new ReadFailure("unsupported-type", "This is a Word document, which is not read.");
  }
  if (names.some((name) => name.startsWith("xl/") && name.endsWith(".bin"))) {
    return new ReadFailure("unsupported-type", "This is a binary workbook (.xlsb), which is not read.");
  }
  if (names.includes("content.xml")) {
    return new ReadFailure("unsupported-type", "This is an OpenDocument file, which is not read.");
  }
  return new ReadFailure("unsupported-type", "This is an archive but not a workbook.");
}
