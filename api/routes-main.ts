import { FACES } from "./faces.js";
import { openapiDocument } from "./openapi/document.js";
import { routeTable } from "./openapi/route-table.js";

process.stdout.write(`${routeTable(openapiDocument(FACES))}\n`);
