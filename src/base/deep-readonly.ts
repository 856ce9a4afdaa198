/**
 * T with every property, at every depth, read-only. Arrays and tuples become read-only ones. For plain
 * values.
 */
export type DeepReadonly<T> = { readonly [K in keyof T]: DeepReadonly<T[K]> };
