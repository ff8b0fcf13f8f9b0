/** One cell's or shared string's text, put together from its runs. */
export interface RichText {
  readonly text: string;
  readonly bold: boolean;
  readonly struck: boolean;
  /** What was struck through beside text that was not; it is left out of `text`. */
  readonly partlyStruck?: string;
}

export interface RichTextBuilder {
  open(name: string, attributes: Record<string, string>): void;
  text(text: string): void;
  close(name: string): void;
  /** The text so far; the builder is empty again. */
  take(): RichText;
}

interface Run {
  text: string;
  bold: boolean;
  struck: boolean;
  raised: boolean;
}

const RAISED: Readonly<Record<string, string>> = {
  "0": "⁰",
  "1": "¹",
  "2": "²",
  "3": "³",
  "4": "⁴",
  "5": "⁵",
  "6": "⁶",
  "7": "⁷",
  "8": "⁸",
  "9": "⁹",
  "-": "⁻",
  "−": "⁻",
  "+": "⁺",
};

/** Takes the events inside `<si>` or `<is>`. Reading aids for Japanese (`rPh`) are no text of the cell. */
export function createRichTextBuilder(): RichTextBuilder {
  let runs: Run[] = [];
  let run = plainRun();
  let inText = false;
  let inPhonetic = false;

  return {
    open(name, { val }) {
      if (name === "rPh") inPhonetic = true;
      else if (name === "t") inText = !inPhonetic;
      else if (name === "r") run = plainRun();
      else if (name === "b") run.bold = isOn(val);
      else if (name === "strike") run.struck = isOn(val);
      else if (name === "vertAlign") run.raised = val === "superscript";
    },
    text(text) {
      if (inText) run.text += text;
    },
    close(name) {
      if (name === "rPh") inPhonetic = false;
      if (name !== "t") return;
      inText = false;
      if (run.text === "") return;
      runs.push(run);
      run = plainRun();
    },
    take() {
      const taken = join(runs);
      runs = [];
      run = plainRun();
      return taken;
    },
  };
}

export function isOn(value: string | undefined): boolean {
  return value === undefined || /^(1|true)$/.test(value);
}

function plainRun(): Run {
  return { text: "", bold: false, struck: false, raised: false };
}

function join(runs: readonly Run[]): RichText {
  const inked = runs.filter((run) => run.text.trim() !== "");
  const struck = inked.filter((run) => run.struck);
  const whole = inked.length > 0 && struck.length === inked.length;
  const partly = struck.length > 0 && !whole;
  return {
    text: resolveEscapes((partly ? runs.filter((run) => !run.struck) : runs).map(show).join("")),
    bold: inked.length > 0 && inked.every((run) => run.bold),
    struck: whole,
    ...(partly ? { partlyStruck: struck.map((run) => run.text.trim()).join(" ") } : {}),
  };
}

/** "×10" with a raised "-3" must not become "×10-3". */
function show({ text, raised }: Run): string {
  if (!raised || ![...text].every((letter) => letter in RAISED)) return text;
  return [...text].map((letter) => RAISED[letter]).join("");
}

/** Characters that XML cannot hold stand as _x000D_. */
function resolveEscapes(text: string): string {
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
}
