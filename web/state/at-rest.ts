/** ms without a change after which what waits for rest begins. */
const REST = 400;
/** The same while a drag or a key is held: that ends it, and if its end was never seen, this does. */
const HELD = 10_000;

/** Work that waits until the reader's hand rests. */
export interface AtRest {
  /** Takes the place of what waits; undefined: nothing waits any more. */
  wait(work: (() => void) | undefined): void;
  /** A gesture has begun or ended. */
  again(): void;
}

export function createAtRest(held: () => boolean): AtRest {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let waiting: (() => void) | undefined;
  const wait = (work: (() => void) | undefined): void => {
    clearTimeout(timer);
    waiting = work;
    if (!work) return;
    const start = (): void => {
      waiting = undefined;
      work();
    };
    timer = setTimeout(start, held() ? HELD : REST);
  };
  return { wait, again: () => waiting && wait(waiting) };
}
