import { delimiter } from "node:path";

/** The user's own grade folders: HEATGATE_GRADES, one or several separated as in PATH. */
export function gradeFolders(environment: Readonly<Record<string, string | undefined>>): readonly string[] {
  return (environment.HEATGATE_GRADES ?? "").split(delimiter).filter((folder) => folder !== "");
}
