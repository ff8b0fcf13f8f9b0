import type { Certificate } from "../certificate/certificate.js";
import { reduceRecords } from "../reduction/reduce-records.js";
import type { ReadDocument } from "./cells.js";
import { cutOverlong } from "./cut-overlong.js";
import { recognise } from "./recognise.js";

/**
 * The one door for a document that was read: tables that are raw curves or pendulum records are reduced, all others recognised.
 * `documentIndex` is the document's position in the submission (from 0).
 */
export function readCertificate(read: ReadDocument, documentIndex: number): Certificate {
  const document = cutOverlong(read);
  if (document.tree) return recognise(document, documentIndex);
  const reduced = document.tables.map((table) =>
    reduceRecords({ ...document, tables: [table], doubts: [] }, documentIndex),
  );
  const records = reduced.filter((certificate) => certificate !== undefined);
  if (records.length === 0) return recognise(document, documentIndex);

  const tables = document.tables.filter((_, index) => reduced[index] === undefined);
  const rest = recognise({ ...document, tables }, documentIndex);
  // Raw records alone are no certificate without heats: what is missing there, the reduction says itself.
  const doubts = rest.heats.length === 0 ? rest.doubts.filter(({ code }) => code !== "no-heat-found") : rest.doubts;
  return {
    ...rest,
    heats: [...rest.heats, ...records.flatMap(({ heats }) => heats)],
    doubts: [...doubts, ...records.flatMap((record) => record.doubts)],
  };
}
