/**
 * The way to a key `__proto__` in plain data, or null if there is none. No name is that, and schemas pass
 * over it without a word, so whoever reads data from outside refuses it.
 */
export function wayToProtoKey(value: unknown): readonly string[] | null {
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, inner] of Object.entries(value)) {
    if (key === '__proto__') return [key];
    const way = wayToProtoKey(inner);
    if (way !== null) return [key, ...way];
  }
  return null;
}
