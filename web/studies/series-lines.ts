import type { Series } from '../../engine/studies/shared/shape.ts';

/** Lines that could not be told apart are drawn once, under all their names: nowhere a hundredth of the range from the first. */
export function mergeAlike(series: readonly Series[]): Series[] {
  const values = series.flatMap(({ y }) => y.filter((value) => value !== null));
  const near = 0.01 * (Math.max(...values) - Math.min(...values));
  const alike = (a: Series, b: Series): boolean =>
    a.role === b.role &&
    a.x.length === b.x.length &&
    a.x.every((x, i) => x === b.x[i]) &&
    a.y.every((y, i) => y === b.y[i] || Math.abs((y ?? NaN) - (b.y[i] ?? NaN)) <= near);
  const groups: Series[][] = [];
  for (const line of series) {
    const own = groups.find(([first]) => alike(first!, line));
    if (own) own.push(line);
    else groups.push([line]);
  }
  const nameOf = (group: readonly Series[]): string => {
    if (group.length <= 2) return group.map(({ name }) => name).join('; ');
    const all = series.filter(({ role }) => role === group[0]!.role).length;
    return group.length === all ? `all ${all}` : `the other ${group.length}`;
  };
  return groups.map((group) => ({ ...group[0]!, name: nameOf(group) }));
}

/** With a little room at either end. */
export function extent(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const room = (high - low || Math.abs(high) || 1) * 0.04;
  return [low - room, high + room];
}

/** Zero is shown where values come near it; a narrow range far from zero is shown on its own, not under a tenth. */
export function valueExtent(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  if (!Number.isFinite(low)) return [0, 1];
  const far = low > 0 && high < 1.6 * low;
  const [a, b] = far ? [low, high] : [Math.min(0, low), Math.max(0, high)];
  const room = Math.max((b - a) * 0.08, far ? 0.05 * high : 0, b === 0 && a === 0 ? 1e-3 : 0);
  return [a < 0 || far ? a - room : a, b + room];
}

/** Moves labels apart so that neighbours are `gap` px away from each other, in their order from the top. */
export function spread(places: readonly number[], gap: number, top: number, bottom: number): number[] {
  const order = places.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  for (let k = 1; k < order.length; k++) order[k]!.y = Math.max(order[k]!.y, order[k - 1]!.y + gap);
  const over = Math.max(0, (order.at(-1)?.y ?? 0) - bottom);
  let limit = Infinity;
  for (let k = order.length - 1; k >= 0; k--) {
    if (over > 0) order[k]!.y = Math.min(order[k]!.y, k === order.length - 1 ? bottom : limit);
    limit = order[k]!.y - gap;
  }
  const out = [...places];
  for (const { y, i } of order) out[i] = Math.max(top, y);
  return out;
}
