import { ReadFailure } from "./problem.js";
import { decodeText } from "./text/decode-text.js";

export type DocumentType = "zip" | "json" | "xml" | "pdf" | "png" | "jpeg" | "tiff" | "text";

/** What the bytes are, whatever the sender called them. Throws for kinds that are known and not read. */
export function detectType(bytes: Buffer): DocumentType {
  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) || startsWith(bytes, [0x50, 0x4b, 0x05, 0x06])) return "zip";
  if (startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0])) throw explainCompoundFile(bytes);
  // Some mills' systems put a few bytes before the PDF header; readers have always looked through the first kilobyte.
  if (bytes.subarray(0, 1_024).includes("%PDF-")) return "pdf";
  if (startsWith(bytes, [0x89, 0x50, 0x4e, 0x47])) return "png";
  if (startsWith(bytes, [0xff, 0xd8, 0xff])) return "jpeg";
  if (startsWith(bytes, [0x49, 0x49, 0x2a, 0x00]) || startsWith(bytes, [0x4d, 0x4d, 0x00, 0x2a])) return "tiff";
  const known = KNOWN_BUT_NOT_READ.find(({ magic }) => startsWith(bytes, magic));
  if (known) throw new ReadFailure("unsupported-type", `This is ${known.name}, which is not read.`);
  return detectTextType(decodeText(bytes.subarray(0, 4_096)).text);
}

function detectTextType(start: string): DocumentType {
  // "[Header]" opens many machine exports; JSON's bracket is followed by a value.
  if (/^\s*(\{\s*["}]|\[\s*(["[{\]\d-]|true\b|false\b|null\b))/.test(start)) return "json";
  if (/^\s*<(\?xml|!--|!DOCTYPE|[A-Za-z_])/i.test(start)) return "xml";
  return "text";
}

function explainCompoundFile(bytes: Buffer): ReadFailure {
  const holds = (name: string) => bytes.includes(Buffer.from(name, "utf16le"));
  if (holds("EncryptedPackage")) return new ReadFailure("encrypted", "The workbook is protected with a password.");
  if (holds("WordDocument"))
    return new ReadFailure("unsupported-type", "This is an old Word document, which is not read.");
  if (holds("Workbook") || holds("Book")) {
    return new ReadFailure("legacy-workbook", "This is a workbook in the old .xls format, which is not read.");
  }
  return new ReadFailure("unsupported-type", "This is an Office compound file that is not a workbook.");
}

const KNOWN_BUT_NOT_READ: readonly { readonly magic: readonly number[]; readonly name: string }[] = [
  { magic: [0x1f, 0x8b], name: "a gzip archive" },
  { magic: [0x37, 0x7a, 0xbc, 0xaf], name: "a 7-Zip archive" },
  { magic: [0x52, 0x61, 0x72, 0x21], name: "a RAR archive" },
  { magic: [0x7b, 0x5c, 0x72, 0x74, 0x66], name: "a rich text document" },
  { magic: [0x47, 0x49, 0x46, 0x38], name: "a GIF picture" },
  { magic: [0x25, 0x21, 0x50, 0x53], name: "a PostScript document" },
];

function startsWith(bytes: Buffer, magic: readonly number[]): boolean {
  return magic.every((byte, index) => bytes[index] === byte);
}
