/** A type of plain values none of which may be changed: arrays and tuples become read-only ones. */
export type DeepReadonly<T> = { readonly [K in keyof T]: DeepReadonly<T[K]> };
