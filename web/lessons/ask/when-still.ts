/** ms: a hand that rests so long has set what it wants to set. */
const REST = 250;

/** Calls once nothing more has come for a while. */
export function whenStill(call: () => void): () => void {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  return () => {
    clearTimeout(waiting);
    waiting = setTimeout(call, REST);
  };
}
