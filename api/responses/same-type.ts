/**
 * `true satisfies Promised<Schema, Written>`: the compiler holds what the wire promises to what core really writes. A field
 * added there and not here does not compile, also one that may be absent.
 */
export type Promised<A, B> = [Same<DeepReadonly<A>, DeepReadonly<B>>, Same<DeepRequired<A>, DeepRequired<B>>] extends [
  true,
  true,
]
  ? true
  : never;

type Same<A, B> = [A] extends [B] ? ([B] extends [A] ? true : false) : false;
type DeepReadonly<T> = T extends object ? { readonly [Key in keyof T]: DeepReadonly<T[Key]> } : T;
type DeepRequired<T> = T extends object ? { readonly [Key in keyof T]-?: DeepRequired<T[Key]> } : T;
