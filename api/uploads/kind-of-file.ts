export type KindOfFile = "zip" | "pdf" | "ole" | "png" | "jpeg" | "tiff" | "text" | "binary";

const SIGNATURES: readonly (readonly [kind: KindOfFile, hexadecimal: string])[] = [
  ["zip", "504b0304"],
  // Of an archive without entries.
  ["zip", "504b0506"],
  ["ole", "d0cf11e0a1b11ae1"],
  ["png", "89504e470d0a1a0a"],
  ["jpeg", "ffd8ff"],
  ["tiff", "49492a00"],
  ["tiff", "4d4d002a"],
];

/** From the first bytes alone: enough to refuse at the door what no reader will take. Readers look for themselves. */
export function kindOfFile(head: Buffer): KindOfFile {
  const signature = SIGNATURES.find(
    ([, hexadecimal]) => head.subarray(0, hexadecimal.length / 2).toString("hex") === hexadecimal,
  );
  if (signature) return signature[0];
  // Producers put bytes before the mark, so it is looked for, not expected at the very start.
  if (head.includes("%PDF-")) return "pdf";
  return isText(head) ? "text" : "binary";
}

function isText(head: Buffer): boolean {
  const isUtf16 = head.length >= 2 && ["fffe", "feff"].includes(head.subarray(0, 2).toString("hex"));
  return isUtf16 || !head.includes(0);
}
