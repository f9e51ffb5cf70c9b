/**
 * Node voltages of a ladder: diagonal v = i_(k-1) - i_k + source, with the currents v_k - v_(k+1) = own i_k + rest_k
 * between nodes eliminated; a tridiagonal system.
 * @param own ohm of each lump @param rest V of each lump @param node S and A of each node
 */
export function solveNodes(
  own: Float64Array,
  rest: Float64Array,
  node: (k: number) => { diagonal: number; source: number },
): Float64Array {
  const count = own.length;
  const v = new Float64Array(count + 1);
  const diagonal = new Float64Array(count + 1);
  const upper = new Float64Array(count);
  for (let k = 0; k <= count; k++) {
    const { diagonal: d, source } = node(k);
    const [left, right] = [k > 0 ? 1 / own[k - 1]! : 0, k < count ? 1 / own[k]! : 0];
    diagonal[k] = d + left + right;
    v[k] = source - (k > 0 ? rest[k - 1]! * left : 0) + (k < count ? rest[k]! * right : 0);
    if (k < count) upper[k] = -right;
  }
  for (let k = 1; k <= count; k++) {
    const factor = upper[k - 1]! / diagonal[k - 1]!;
    diagonal[k]! -= factor * upper[k - 1]!;
    v[k]! -= factor * v[k - 1]!;
  }
  v[count]! /= diagonal[count]!;
  for (let k = count - 1; k >= 0; k--) v[k] = (v[k]! - upper[k]! * v[k + 1]!) / diagonal[k]!;
  return v;
}
