/** The same work, done again only when an argument is another one than the last time. */
export function keepLast<A extends readonly unknown[], R>(make: (...args: A) => R): (...args: A) => R {
  let kept: { readonly args: A; readonly made: R } | undefined;
  return (...args) => {
    const same = kept?.args.every((arg, i) => Object.is(arg, args[i])) ?? false;
    if (!same) kept = { args, made: make(...args) };
    return kept!.made;
  };
}
