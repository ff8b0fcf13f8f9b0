import { promisify } from "node:util";
import { gunzip, gzip } from "node:zlib";
import type { JudgedDocument } from "../../core/report/build-report.js";
import { digitsAsText, digitsFromText } from "../digits.js";

/**
 * Documents as they were read and recognised, to be judged once more without reading them again. The report cannot serve for
 * that: it shows converted values, rounded to what the paper prints.
 */
export async function packEvidence(documents: readonly JudgedDocument[]): Promise<Uint8Array> {
  return await promisify(gzip)(JSON.stringify(documents, digitsAsText));
}

export async function unpackEvidence(packed: Uint8Array): Promise<readonly JudgedDocument[]> {
  return JSON.parse((await promisify(gunzip)(packed)).toString("utf8"), digitsFromText) as JudgedDocument[];
}
