const MS_PER_DAY = 86_400_000;
const EPOCH_1900_MS = Date.UTC(1899, 11, 30);
const EPOCH_1904_MS = Date.UTC(1904, 0, 1);
/** 9999-12-31 in the 1900 system. */
const LAST_SERIAL = 2_958_465;

/** A day count as ISO date; with its time of day where there is one. Undefined where no calendar has such a day. */
export function showDate(serial: number, from1904: boolean): { text: string; date: string } | undefined {
  if (!(serial >= 0 && serial <= LAST_SERIAL)) return undefined;
  // The 1900 system counts a 29 February 1900 that never was, so days before it stand one higher.
  const days = !from1904 && serial < 60 ? serial + 1 : serial;
  const epochMs = from1904 ? EPOCH_1904_MS : EPOCH_1900_MS;
  const iso = new Date(epochMs + Math.round(days * MS_PER_DAY)).toISOString();
  const date = iso.slice(0, 10);
  return { date, text: Number.isInteger(serial) ? date : `${date} ${iso.slice(11, 19)}` };
}

/** A part of a day, or a duration, as hours, minutes and seconds. */
export function showTime(serial: number): string {
  const milliseconds = Math.round(Math.abs(serial) * MS_PER_DAY);
  const two = (value: number) => String(value).padStart(2, "0");
  const seconds = Math.floor(milliseconds / 1000);
  const fraction = milliseconds % 1000;
  const clock = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(two).join(":");
  const shown = fraction === 0 ? clock : `${clock}.${String(fraction).padStart(3, "0").replace(/0+$/, "")}`;
  return serial < 0 ? `-${shown}` : shown;
}
