/** Draws a part of a view only when what it is drawn from has changed. */
export type Once = (part: string, from: readonly unknown[], draw: () => void) => void;

export function createOnce(): Once {
  const drawn = new Map<string, readonly unknown[]>();
  return (part, from, draw) => {
    const before = drawn.get(part);
    const same = before?.length === from.length && from.every((value, i) => Object.is(value, before[i]));
    if (same) return;
    drawn.set(part, from);
    draw();
  };
}
