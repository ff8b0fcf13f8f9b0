import { openapiDocument } from "../../api/openapi/document.js";

/** Every operation of the API as "GET /v1/heats": from its description, so that no table over them can leave a new one out. */
export const OPERATIONS: readonly string[] = Object.entries(openapiDocument([]).paths ?? {}).flatMap(
  ([path, methods]) => Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
);
