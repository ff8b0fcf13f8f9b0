import type { Report } from "../../core/report/report.js";
import { type Picture, type Spot, type SpotPicture, spotsToPicture } from "../../core/report/spot-picture.js";
import { within } from "../within.js";
import type { GivenDocument, Verifier } from "./verify-documents.js";

/** Of one report. Scans come to some 20 to 60 kB a picture, text pages to 3 to 8 kB. */
const MOST_PICTURES = 150;
const MOST_BYTES = 3 * 1024 * 1024;
/** Waiting for a free reader included. */
const MOST_MS = 20_000;

/**
 * Pictures of the places that a report's values were read in, those first that a person should look at first. A report is
 * none the worse without them: this never throws and never takes long, and what has no picture says so.
 */
export async function takePictures(
  verifier: Pick<Verifier, "crop">,
  documents: readonly GivenDocument[],
  report: Report,
): Promise<readonly SpotPicture[]> {
  const spots = spotsToPicture(report);
  const wanted = spots.slice(0, MOST_PICTURES);
  const taken = new Map<Spot, Picture>();
  const work = documents.map(async (document, position) => {
    const own = wanted.filter((spot) => spot.document === position);
    if (own.length === 0) return;
    const result = await verifier.crop(document.path, { name: document.name, mediaType: document.mediaType }, own);
    if (!result.ok) return;
    own.forEach((spot, index) => {
      const png = result.pictures[index];
      if (png) taken.set(spot, describePng(png));
    });
  });
  await within(MOST_MS, Promise.allSettled(work));
  return withinBytes(spots, wanted.length, new Map(taken));
}

function withinBytes(spots: readonly Spot[], wanted: number, taken: ReadonlyMap<Spot, Picture>): SpotPicture[] {
  let bytes = 0;
  return spots.map((spot, index): SpotPicture => {
    const picture = taken.get(spot);
    bytes += picture?.png.length ?? 0;
    if (index >= wanted || bytes > MOST_BYTES) return { spot, picture: "too-many" };
    return { spot, picture: picture ?? "not-made" };
  });
}

/** Width and height stand at the head of every PNG (ISO/IEC 15948, 11.2.2). */
function describePng(png: Uint8Array): Picture {
  const bytes = Buffer.from(png);
  return { png: bytes.toString("base64"), widthPx: bytes.readUInt32BE(16), heightPx: bytes.readUInt32BE(20) };
}
