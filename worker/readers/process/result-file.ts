import { constants } from "node:fs";
import { open } from "node:fs/promises";
import path from "node:path";
import { RESULT_FILE } from "./message.js";

/** The child's folder is the child's: a link instead of a file, or more bytes than agreed, is not followed. */
export async function readResultFile(folder: string, limitBytes: number): Promise<string | undefined> {
  const file = await open(path.join(folder, RESULT_FILE), constants.O_RDONLY | constants.O_NOFOLLOW);
  try {
    const { size } = await file.stat();
    return size > limitBytes ? undefined : await file.readFile("utf8");
  } finally {
    await file.close();
  }
}
