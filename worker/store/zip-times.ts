const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;
const DIRECTORY_ENTRY_BYTES = 46;
const END_OF_DIRECTORY_BYTES = 22;
/** 1980-01-01 00:00:00 in MS-DOS form, the earliest that a zip file can state. */
const EARLIEST_DATE = 0x0021;
const EARLIEST_TIME = 0;

/**
 * Sets the times of all entries of a zip file that this program wrote, so that the same content gives the same bytes.
 * Offsets are those of PKWARE's APPNOTE 4.3.7 (local header), 4.3.12 (directory entry) and 4.3.16 (end of directory).
 */
export function withFixedZipTimes(zip: Uint8Array): Uint8Array {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  const end = zip.byteLength - END_OF_DIRECTORY_BYTES;
  if (end < 0 || view.getUint32(end, true) !== END_OF_DIRECTORY) throw new Error("not a zip file without a comment");

  const entries = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  for (let entry = 0; entry < entries; entry++) {
    if (view.getUint32(at, true) !== DIRECTORY_ENTRY) throw new Error("zip directory entry expected");
    setTime(view, at + 12);
    setTime(view, view.getUint32(at + 42, true) + 10);
    const nameExtraComment = [28, 30, 32].reduce((sum, offset) => sum + view.getUint16(at + offset, true), 0);
    at += DIRECTORY_ENTRY_BYTES + nameExtraComment;
  }
  return zip;
}

function setTime(view: DataView, at: number): void {
  view.setUint16(at, EARLIEST_TIME, true);
  view.setUint16(at + 2, EARLIEST_DATE, true);
}
