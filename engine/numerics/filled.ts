/** n numbers by a rule; several times as fast as Float64Array.from, which takes them one by one from an iterator. */
export function filled(n: number, rule: (i: number) => number): Float64Array {
  return fill(new Float64Array(n), rule);
}

/** Fills an array, in place, by a rule. */
export function fill<Numbers extends Float64Array | Int32Array | Uint8Array>(
  numbers: Numbers,
  rule: (i: number) => number,
): Numbers {
  for (let i = 0; i < numbers.length; i++) numbers[i] = rule(i);
  return numbers;
}
