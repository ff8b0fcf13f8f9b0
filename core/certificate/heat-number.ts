/** Heats with the same name after this are the same heat: spaces, hyphens and case carry nothing in the trade. */
export function normaliseHeatNumber(printed: string): string {
  return printed
    .normalize("NFKC")
    .replace(/[\s‐‑‒–—−-]/g, "")
    .toUpperCase();
}

/** Stands for the heat where a paper names none; no two of them are known to be one heat. */
export const HEAT_NOT_STATED = "heat not stated";

/** Letters and digits that are taken for each other on paper and by OCR, and letters of other alphabets that print the same. */
const LOOK_ALIKES: Readonly<Record<string, string>> = {
  ...pairs("АВЕКМНОРСТУХІЅЈ", "A8EKMH0PCTYX15J"),
  ...pairs("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "A8E2H1KMN0PTYX"),
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

/** "H4471" for "H4471/2": a mill numbers the plates or pieces of a heat behind its name. */
export function namesPieceOf(normalised: string): string | undefined {
  return /^(.*\d.*)[/.](?:\d{1,3}|[A-Z])$/u.exec(normalised)?.[1];
}

function pairs(letters: string, likes: string): Record<string, string> {
  return Object.fromEntries([...letters].map((letter, index) => [letter, [...likes][index]!]));
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
