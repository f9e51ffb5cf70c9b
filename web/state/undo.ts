/** Undo and redo over immutable values. Changes that share a `gesture` (one drag, one held key) are one step. */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  readonly future: readonly T[];
  /** The gesture that made `present`; undefined when the next change must be a step of its own. */
  readonly gesture: string | undefined;
}

/** Steps kept. */
export const HISTORY_LIMIT = 200;

export const startHistory = <T>(present: T): History<T> => ({
  past: [],
  present,
  future: [],
  gesture: undefined,
});

export function change<T>(history: History<T>, next: T, gesture?: string): History<T> {
  if (Object.is(next, history.present)) return history;
  const continues = gesture !== undefined && gesture === history.gesture;
  const past = continues ? history.past : [...history.past, history.present].slice(-HISTORY_LIMIT);
  return { past, present: next, future: [], gesture };
}

/** The drag has ended: the next change is a new step. */
export const endGesture = <T>(history: History<T>): History<T> => ({ ...history, gesture: undefined });

export function undo<T>(history: History<T>): History<T> {
  const previous = history.past.at(-1);
  if (history.past.length === 0) return history;
  return {
    past: history.past.slice(0, -1),
    present: previous as T,
    future: [history.present, ...history.future],
    gesture: undefined,
  };
}

export function redo<T>(history: History<T>): History<T> {
  if (history.future.length === 0) return history;
  return {
    past: [...history.past, history.present],
    present: history.future[0] as T,
    future: history.future.slice(1),
    gesture: undefined,
  };
}
