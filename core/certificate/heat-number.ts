/** Heats with the same name after this are the same heat: spaces, hyphens and case carry nothing in the trade. */
export function normaliseHeatNumber(printed: string): string {
  return printed
    .normalize("NFKC")
    .replace(/[\s‐‑‒–—−-]/g, "")
    .toUpperCase();
}

/** Stands for the heat where a paper names none; no two of them are known to be one heat. */
export const HEAT_NOT_STATED = "heat not stated";

/** Letters and digits that are taken for each other on paper and by OCR. */
const LOOK_ALIKES: Readonly<Record<string, string>> = {
  O: "0",
  Q: "0",
  D: "0",
  I: "1",
  L: "1",
  S: "5",
  B: "8",
  Z: "2",
  G: "6",
};

/** Two heats with one shape but different names may be one heat misread; a person has to say. */
export function heatShape(normalised: string): string {
  return [...normalised].map((letter) => LOOK_ALIKES[letter] ?? letter).join("");
}

/** Whether a text can be a heat number: it has a digit, is short, is no sentence and no decimal ("0.021", "18,12"). */
export function looksLikeHeat(text: string): boolean {
  const trimmed = text.trim();
  return (
    trimmed.length <= 30 &&
    trimmed.split(/\s+/).length <= 4 &&
    /\d/.test(trimmed) &&
    !/^\d{0,3}[.,]\d+$/.test(trimmed) &&
    /^[\p{L}\d][\p{L}\d\s./\\_#‐‑–-]*$/u.test(trimmed)
  );
}
