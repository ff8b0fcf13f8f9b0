import { describePlace, type Evidence } from "../../certificate/evidence.js";
import type { Report } from "../report.js";
import { sarifMessage } from "./message.js";
import { uriComponent } from "./uri-component.js";

/** The documents, with their hashes. Their names are relative addresses, whatever stands in them. */
export function artifacts(report: Report) {
  return report.documents.map(({ name, sha256, reader }, position) => ({
    location: { uri: relativeUri(name) },
    roles: ["analysisTarget" as const],
    hashes: { "sha-256": sha256 },
    // The position keeps apart one document that was handed in twice: SARIF wants unique artifacts.
    properties: { name, reader, position },
  }));
}

/**
 * SARIF knows lines and columns of text. A cell, a box on a page and a JSON pointer are named beside the file instead, so
 * that no tool marks the wrong line.
 */
export function sarifLocation(evidence: Evidence, report: Report) {
  const { document, ...place } = evidence;
  const name = report.documents[document]?.name ?? "";
  const artifactLocation = { uri: relativeUri(name), index: document };
  const isLine = "line" in place;
  return {
    physicalLocation: {
      artifactLocation,
      ...(isLine && { region: { startLine: place.line } }),
      properties: { place },
    },
    ...(!isLine && { message: sarifMessage(describePlace(place)) }),
  };
}

function relativeUri(name: string): string {
  const encoded = uriComponent(name);
  return encoded === "" || encoded === "." || encoded === ".." ? "document" : encoded;
}
