/** A result with the key of what it was made from: it is old as soon as its key is not the key of now. */
export interface Keyed<T> {
  readonly value: T;
  readonly key: string;
}

/** Old: of inputs before. Nothing is neither old nor fresh, and counts as not old. */
export const isStale = (result: Keyed<unknown> | undefined, now: string): boolean =>
  result !== undefined && result.key !== now;
