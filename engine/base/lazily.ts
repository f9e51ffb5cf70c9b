/**
 * The object with more fields, each computed when it is first read and then kept: for results of which a caller of
 * hundreds looks at one. Copies, JSON and structured clones read them all.
 */
export function lazily<Plain extends object, Lazy extends object>(
  plain: Plain,
  makers: { readonly [Field in keyof Lazy]: () => Lazy[Field] },
): Plain & Lazy {
  for (const field of Object.keys(makers) as (keyof Lazy & string)[])
    Object.defineProperty(plain, field, {
      enumerable: true,
      configurable: true,
      get() {
        const value = makers[field]();
        Object.defineProperty(plain, field, { enumerable: true, configurable: true, writable: true, value });
        return value;
      },
    });
  return plain as Plain & Lazy;
}
