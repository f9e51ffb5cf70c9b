/** A value that can be watched. Watchers are told once per change, after it, in the order in which they came. */
export interface Observable<T> {
  get(): T;
  set(value: T): void;
  /** Calls `watcher` with every later value; returns the way to stop. */
  watch(watcher: (value: T) => void): () => void;
}

export function observable<T>(initial: T): Observable<T> {
  let current = initial;
  const watchers = new Set<(value: T) => void>();
  return {
    get: () => current,
    set(value) {
      if (Object.is(value, current)) return;
      current = value;
      for (const watcher of watchers) watcher(value);
    },
    watch(watcher) {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
  };
}
