import fc from "fast-check";

/** As much of JSON Schema as requests are described with. */
export interface JsonSchema {
  readonly $ref?: string;
  readonly type?: string;
  readonly format?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly anyOf?: readonly JsonSchema[];
  readonly items?: JsonSchema;
  readonly maxItems?: number;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: JsonSchema | boolean;
}

/**
 * Values that fit a schema nearly always, and now and then do not: one in a dozen places has something from anywhere, so that what is
 * refused is refused deep inside and what is taken says unusual things.
 * @param usual what the text of a property, by its name, must be to be taken
 */
export function arbitraryOf(
  schema: JsonSchema,
  components: Readonly<Record<string, JsonSchema>>,
  text: fc.Arbitrary<string>,
  usual: Readonly<Record<string, string>>,
): fc.Arbitrary<unknown> {
  const of = (inner: JsonSchema, name = ""): fc.Arbitrary<unknown> =>
    fc.oneof(
      { weight: 11, arbitrary: fitting(inner, name) },
      { weight: 1, arbitrary: fc.oneof(text, fc.jsonValue(), fc.integer()) },
    );
  const fitting = (inner: JsonSchema, name: string): fc.Arbitrary<unknown> => {
    if (inner.$ref) return of(components[inner.$ref.split("/").at(-1)!] ?? {}, name);
    if (inner.const !== undefined) return fc.constant(inner.const);
    if (inner.enum) return fc.constantFrom(...inner.enum);
    if (inner.anyOf) return fc.oneof(...inner.anyOf.map((one) => of(one, name)));
    if (inner.type === "array")
      return fc.array(of(inner.items ?? {}, name), { maxLength: Math.min(inner.maxItems ?? 3, 3) });
    if (inner.type === "object") return objectOf(inner);
    if (inner.type === "integer") return fc.oneof(fc.integer({ min: 0, max: 100 }), fc.maxSafeInteger());
    if (inner.type === "number") return fc.oneof(fc.integer({ min: 0, max: 100 }), fc.double({ noNaN: true }));
    if (inner.type === "boolean") return fc.boolean();
    if (inner.type === "null") return fc.constant(null);
    if (inner.format === "date-time") return fc.date({ noInvalidDate: true }).map((date) => date.toISOString());
    if (inner.format === "date") return fc.constantFrom("2026-03-09", "0000-00-00");
    const known = usual[name];
    return known === undefined
      ? text
      : fc.oneof({ weight: 4, arbitrary: fc.constant(known) }, { weight: 1, arbitrary: text });
  };
  const objectOf = ({ properties = {}, required = [], additionalProperties }: JsonSchema) => {
    const named = fc.record(
      Object.fromEntries(Object.entries(properties).map(([name, inner]) => [name, of(inner, name)])),
      {
        requiredKeys: [...required],
      },
    );
    if (typeof additionalProperties !== "object") return named;
    return fc
      .tuple(named, fc.dictionary(text, of(additionalProperties), { maxKeys: 3 }))
      .map(([one, two]) => ({ ...two, ...one }));
  };
  return of(schema);
}
