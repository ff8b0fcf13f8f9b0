import type { ComparedRow, Winner } from "./comparison.js";

/** Values this close are the same for choosing a material: tests of one plate scatter by more. */
const TIE_SHARE = 0.03;

export function sayWinner(title: string, unit: string, serviceC: number, rows: readonly ComparedRow[]): Winner {
  const known = rows
    .flatMap((row) => ("value" in row.atService ? [{ row, value: row.atService.value }] : []))
    .sort((left, right) => right.value - left.value);
  const unknown = rows.filter((row) => !("value" in row.atService)).map(({ material }) => material.name);
  const left = unknown.length === 0 ? "" : ` Not known at ${show(serviceC)} °C: ${unknown.join("; ")}.`;
  const [first, second] = known;
  if (!first) return { message: `${capital(title)}: nothing was tested at or around ${show(serviceC)} °C.${left}` };

  const shown = ({ row, value }: typeof first) =>
    `${show(value)} ${unit}${row.atService.kind === "interpolated" ? " (interpolated)" : ""}`;
  const fails = known.filter(({ row }) => row.meets === false).map(({ row }) => row.material.name);
  const short = fails.length === 0 ? "" : ` Short of the required ${requiredWords(rows, unit)}: ${fails.join("; ")}.`;
  if (!second) {
    const only = `${capital(title)}: only ${first.row.material.name} is known, ${shown(first)}.`;
    return { message: `${only}${short}${left}` };
  }
  if (first.value - second.value <= TIE_SHARE * first.value) {
    const tied = known
      .filter(({ value }) => first.value - value <= TIE_SHARE * first.value)
      .map(({ row }) => row.material.name);
    return { message: `${capital(title)}: ${tied.join(" and ")} are level at ${shown(first)}.${short}${left}` };
  }
  const others = known.slice(1).map((entry) => `${shown(entry)} of ${entry.row.material.name}`);
  const message = `${capital(title)}: ${first.row.material.name} leads with ${shown(first)}, against ${others.join(", ")}.`;
  return { name: first.row.material.name, message: `${message}${short}${left}` };
}

/** "60 J, 42 J each". */
export function requiredWords(rows: readonly ComparedRow[], unit: string): string {
  const row = rows.find(({ required, requiredSingle }) => required !== undefined || requiredSingle !== undefined);
  const parts = [
    row?.required !== undefined && `${row.required} ${unit}`,
    row?.requiredSingle !== undefined && `${row.requiredSingle} ${unit} each`,
  ];
  return parts.filter(Boolean).join(", ");
}

/** Three digits tell strengths and energies apart; a minus that is one. */
function show(value: number): string {
  const digits = Math.abs(value) >= 100 ? value.toFixed(0) : String(Number(value.toPrecision(3)));
  return digits.replace("-", "−");
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
