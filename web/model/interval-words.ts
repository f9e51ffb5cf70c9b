import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';

/** "−18.4 to 16.7 mV": the unit once where both ends take the same. */
export function intervalText(low: number, high: number, unit: Unit, digits = 3): string {
  const [from, to] = [formatQuantity(low, unit, digits), formatQuantity(high, unit, digits)];
  const shared = / \S+$/u.exec(to)?.[0] ?? ' ';
  return `${from.endsWith(shared) ? from.slice(0, from.length - shared.length) : from} to ${to}`;
}
