import { compare, parseDecimal } from "../quantity/decimal.js";
import { CONDITION_NAMES, normaliseCondition, normaliseForm } from "../requirement/product-words.js";

interface Range {
  readonly over?: string | undefined;
  readonly from?: string | undefined;
  readonly upTo?: string | undefined;
  readonly under?: string | undefined;
}

/** What of a limit's conditions these rules look at. */
interface Conditions {
  readonly form?: readonly string[] | undefined;
  readonly thickness?: Range | undefined;
  readonly condition?: readonly string[] | undefined;
}

interface ConditionFault {
  readonly path: readonly string[];
  readonly message: string;
}

/**
 * Conditions that no product can meet: their limit would be passed over without a word, and bound nothing.
 * @param gradeForms the forms that the grade is delivered in
 */
export function conditionFaults(
  { form = [], thickness, condition = [] }: Conditions,
  gradeForms: readonly string[],
): readonly ConditionFault[] {
  const range = thickness && rangeFault(thickness);
  return [
    ...form.flatMap((words, index) =>
      gradeForms.some((own) => isFormOf(words, own))
        ? []
        : [
            {
              path: ["form", String(index)],
              message: `is no form of this grade; its forms are ${gradeForms.join(", ")}`,
            },
          ],
    ),
    ...(range === undefined ? [] : [{ path: ["thickness"], message: range }]),
    ...condition.flatMap((words, index) =>
      normaliseCondition(words) === undefined
        ? [{ path: ["condition", String(index)], message: `is no known condition; known are ${CONDITION_NAMES}` }]
        : [],
    ),
  ];
}

/** "Hot-rolled plate" is a form of a grade that comes as plate, and the other way round. */
function isFormOf(limited: string, own: string): boolean {
  const [one, other] = [normaliseForm(limited), normaliseForm(own)];
  return one === other || one.endsWith(` ${other}`) || other.endsWith(` ${one}`);
}

/** What makes a range hold nothing, or leaves open what it holds; undefined for a sound one. */
function rangeFault({ over, from, upTo, under }: Range): string | undefined {
  if (over !== undefined && from !== undefined) return "has both over and from";
  if (upTo !== undefined && under !== undefined) return "has both upTo and under";
  const low = over ?? from;
  const high = upTo ?? under;
  if (low === undefined && high === undefined) return "has no end: give over, from, upTo or under";
  const [bottom, top] = [low, high].map((text) => (text === undefined ? undefined : parseDecimal(text)));
  if (!bottom || !top) return undefined;
  const order = compare(bottom, top);
  const isEmpty = order > 0 || (order === 0 && (over !== undefined || under !== undefined));
  return isEmpty ? "holds nothing: it begins above its end" : undefined;
}
