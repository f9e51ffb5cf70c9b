/**
 * Calls `then` once nothing has asked for it for `rest` ms. A drag asks at every move: one timer runs its time and looks
 * how long ago it was asked, where one that is set anew each time would cost more than what it puts off.
 */
export function afterRest(rest: number, then: () => void): { ask(): void; cancel(): void } {
  let due: number | undefined;
  let waiting = false;
  const look = (): void => {
    waiting = false;
    if (due === undefined) return;
    const left = due - performance.now();
    if (left > 0.5) return wait(left);
    due = undefined;
    then();
  };
  const wait = (time: number): void => {
    waiting = true;
    setTimeout(look, time);
  };
  return {
    ask() {
      due = performance.now() + rest;
      if (!waiting) wait(rest);
    },
    cancel() {
      due = undefined;
    },
  };
}
