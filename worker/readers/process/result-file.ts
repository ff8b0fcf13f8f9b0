import { constants } from "node:fs";
import { open } from "node:fs/promises";
import path from "node:path";
import { RESULT_FILE, type TakeLine } from "./message.js";

/**
 * Hands over the lines of the file that the child left. The child's folder is the child's: a link instead of a file, or more
 * bytes than agreed, is not followed. False: more bytes than agreed.
 */
export async function readResultFile(folder: string, limitBytes: number, takeLine: TakeLine): Promise<boolean> {
  const file = await open(path.join(folder, RESULT_FILE), constants.O_RDONLY | constants.O_NOFOLLOW);
  try {
    if ((await file.stat()).size > limitBytes) return false;
    let begun = "";
    // Not the line reader of Node: it ends lines at U+2028 too, which JSON may hold.
    for await (const piece of file.createReadStream({ encoding: "utf8", autoClose: false, end: limitBytes })) {
      const [first = "", ...others] = (piece as string).split("\n");
      begun += first;
      for (const next of others) {
        takeLine(begun);
        begun = next;
      }
    }
    return true;
  } finally {
    await file.close();
  }
}
