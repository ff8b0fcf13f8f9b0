import type { LibraryGrade } from "../grades/grade.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import type { AppliedLimit } from "./applied-limit.js";
import { type Match, matchForm, matchProduct } from "./conditions.js";
import type { Bracket } from "./grade-brackets.js";
import type { Note } from "./judgement.js";
import { keptWith } from "./remembered.js";

/** A grade's brackets as they stand to one product. */
export interface FittedGrade {
  /** The grade's standard has products of this form, or may have. */
  readonly coversForm: boolean;
  readonly brackets: readonly FittedBracket[];
}

export interface FittedBracket {
  /** Any of its limits: they are of one quantity. */
  readonly first: AppliedLimit;
  /** Those that apply or may apply. */
  readonly fitting: readonly FittedLimit[];
  /** The one that applies, where that is sure and no test can change it. */
  readonly only?: AppliedLimit;
  /** What was taken for granted of the product. */
  readonly notes: readonly Note[];
}

export interface FittedLimit {
  readonly applied: AppliedLimit;
  readonly match: Match;
}

/** Heats of one submission mostly share their product, so what is chosen for it is kept with its facts. */
const FITTED = new WeakMap<ProductFacts, WeakMap<readonly Bracket[], FittedGrade>>();

/** Chooses by form, thickness and condition. Zone and direction belong to the single test, see `judgeBracket`. */
export function fitGrade({ grade }: LibraryGrade, brackets: readonly Bracket[], facts: ProductFacts): FittedGrade {
  const ofProduct = keptWith(FITTED, facts, () => new WeakMap());
  return keptWith(ofProduct, brackets, () => ({
    coversForm: matchForm(grade.forms, facts.form) !== "no",
    brackets: brackets.map((bracket) => fitBracket(bracket, facts)),
  }));
}

function fitBracket(bracket: Bracket, stated: ProductFacts): FittedBracket {
  const { facts, notes } = inherentFacts(bracket, stated);
  const fitting = bracket
    .map((applied) => ({ applied, match: matchProduct(applied.limit.when, facts) }))
    .filter(({ match }) => match.state !== "no");
  const [one] = fitting;
  const isOnly =
    fitting.length === 1 && one?.match.state === "yes" && one.applied.limit.when?.orientation === undefined;
  return { first: bracket[0]!, fitting, notes, ...(isOnly && notes.length === 0 && { only: one.applied }) };
}

/**
 * A form or condition that every bracket of a limit shares is how the standard delivers the product; where the certificate does not
 * say another, it holds.
 */
function inherentFacts(bracket: Bracket, facts: ProductFacts): { facts: ProductFacts; notes: Note[] } {
  const shared = (key: "form" | "condition"): string | undefined => {
    const texts = new Set(bracket.map(({ limit }) => JSON.stringify(limit.when?.[key] ?? null)));
    const first = bracket[0]!.limit.when?.[key]?.[0];
    return texts.size === 1 && facts[key] === undefined ? first : undefined;
  };
  const form = shared("form");
  const condition = facts.strangeConditions ? undefined : shared("condition");
  const notes: Note[] = condition === undefined ? [] : [{ code: "inherent-condition", condition }];
  return {
    facts: { ...facts, ...(form !== undefined && { form }), ...(condition !== undefined && { condition }) },
    notes,
  };
}
