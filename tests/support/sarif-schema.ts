import { createRequire } from "node:module";
import { Ajv } from "ajv";
import addFormats from "ajv-formats";

/** The JSON schema of SARIF 2.1.0 (OASIS, revision rtm.5), as Microsoft publishes it with its matchers for tests. */
const published = createRequire(import.meta.url)("@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json");

// It is of draft 4, of which it uses nothing that draft 7 means otherwise but the name of the identifier.
const { $schema: _, id: $id, ...rest } = published;
const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
(addFormats as unknown as (ajv: Ajv) => void)(ajv);
const validate = ajv.compile({ $id, ...rest });

/** What the schema finds in a log, each with its place; none in a good one. */
export function sarifFaults(text: string): readonly string[] {
  validate(JSON.parse(text));
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
