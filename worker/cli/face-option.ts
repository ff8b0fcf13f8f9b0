import { resolve } from "node:path";
import { type Terminal, UsageError, write } from "./terminal.js";
import { writeWholeFile } from "./whole-file.js";

/** The face that `--format` names. Throws a usage error that lists those there are. */
export function faceNamed<Face>(faces: Readonly<Record<string, Face>>, format: string): Face {
  const face = Object.hasOwn(faces, format) ? faces[format] : undefined;
  if (!face) throw new UsageError(`there is no format ${format}; choose one of ${Object.keys(faces).join(", ")}.`);
  return face;
}

/** To the file that `--output` names, or to standard output where it names none or "-". */
export async function putOut(text: string, output: string | undefined, terminal: Terminal): Promise<void> {
  if (output === undefined || output === "-") await write(terminal.stdout, text);
  else await writeWholeFile(resolve(terminal.folder, output), text);
}
