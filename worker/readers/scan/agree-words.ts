import type { OcrWord } from "./ocr-session.js";

/** A word after the page has been read twice. */
export interface AgreedWord extends OcrWord {
  /** What the other reading made of it, where that differs. */
  readonly rival?: OcrWord;
}

/** Confidence of a word that two readings of the page spelt differently: well below what a finding may rest on. */
const DISAGREED = 0.5;
/** A word that only one of the two readings saw. */
const SEEN_ONCE = 0.7;
/** Two readings out of three: good enough for a word, never for a value that decides. */
const OUTVOTED = 0.8;
/** Three readings alike of a word without digits: a heading or a label, never a value. */
const LABEL_AGREED = 0.9;

/**
 * Two readings of one page, the second from a smaller picture of it. Recognition is seldom wrong twice in the same way: where
 * both spell a word alike it is as sure as the surer of them, where they differ it is not sure at all.
 */
export function agreeWords(first: readonly OcrWord[], second: readonly OcrWord[]): AgreedWord[] {
  const unmatched = new Set(second);
  const agreed = first.map((word): AgreedWord => {
    const other = [...unmatched].find((candidate) => isSamePlace(word, candidate));
    if (!other) return { ...word, confidence: Math.min(word.confidence, SEEN_ONCE) };
    unmatched.delete(other);
    if (other.text === word.text) return { ...word, confidence: Math.max(word.confidence, other.confidence) };
    const [surer, rival] = preferred(word, other);
    return { ...surer, line: word.line, rival, confidence: Math.min(surer.confidence, DISAGREED) };
  });
  const missed = [...unmatched].filter((word) => !first.some((known) => overlaps(word, known)));
  return [...agreed, ...missed.map((word) => ({ ...word, confidence: Math.min(word.confidence, SEEN_ONCE) }))];
}

/** A third reading, of the word by itself, decides between two that differ; one that stands alone changes nothing. */
export function settleWord(word: AgreedWord, third: OcrWord | undefined): OcrWord {
  const { rival, ...kept } = word;
  if (!third || third.text === "") return kept;
  const supported = [kept, rival].find((reading) => reading?.text === third.text);
  if (!supported && (hasLetters(kept.text) || !hasLetters(third.text))) return kept;
  // A point is lost sooner than found: "0.41" against two readings of "041" stays in doubt.
  const hasPoint = [kept, rival].find(
    (reading) => reading && withoutPoints(reading.text) === third.text && reading.text !== third.text,
  );
  if (hasPoint) return { ...kept, text: hasPoint.text };
  if (!rival && supported && !/\d/.test(kept.text)) {
    return { ...kept, confidence: Math.max(kept.confidence, LABEL_AGREED) };
  }
  return { ...kept, text: third.text, confidence: Math.max(kept.confidence, Math.min(OUTVOTED, third.confidence)) };
}

/** The surer of two; but where they differ by a point only, the one that has it, for points vanish sooner than they appear. */
function preferred(left: OcrWord, right: OcrWord): [OcrWord, OcrWord] {
  if (left.text !== right.text && withoutPoints(left.text) === withoutPoints(right.text)) {
    return left.text.length >= right.text.length ? [left, right] : [right, left];
  }
  return right.confidence > left.confidence ? [right, left] : [left, right];
}

function hasLetters(text: string): boolean {
  return /[\p{L}\p{N}]/u.test(text);
}

function withoutPoints(text: string): string {
  return text.replace(/[.,]/g, "");
}

function isSamePlace(left: OcrWord, right: OcrWord): boolean {
  return shared(left, right) > 0.6 * Math.max(areaOf(left), areaOf(right)) || shared(left, right) > 0.9 * areaOf(left);
}

function overlaps(left: OcrWord, right: OcrWord): boolean {
  return shared(left, right) > 0.2 * Math.min(areaOf(left), areaOf(right));
}

function shared({ box: left }: OcrWord, { box: right }: OcrWord): number {
  const across = Math.min(left[2], right[2]) - Math.max(left[0], right[0]);
  const down = Math.min(left[3], right[3]) - Math.max(left[1], right[1]);
  return across > 0 && down > 0 ? across * down : 0;
}

function areaOf({ box }: OcrWord): number {
  return Math.max(1, (box[2] - box[0]) * (box[3] - box[1]));
}
