import type { Change } from './changes.ts';
import { formatQuantity } from '../base/format-quantity.ts';

/** Per unit as a reader would turn it: mV and ns per ns, mA, mV, kelvin and so on. */
export function perUnitText(value: number, of: 'V' | 's', unit: Change['unit']): string {
  const [size, name] = TURNS[unit ?? '1'] ?? [1, unit ?? ''];
  return `${formatQuantity(value * size, of, 2)}/${name}`;
}

const TURNS: Readonly<Record<string, readonly [number, string]>> = {
  s: [1e-9, 'ns'],
  V: [1e-3, 'mV'],
  A: [1e-3, 'mA'],
  Hz: [1e6, 'MHz'],
  ohm: [1, 'Ω'],
  Wb: [1e-9, 'nWb'],
  '°C': [1, 'K'],
};

/** A value that an input has or is brought to: with its unit, or a winding in words. */
export const changeValueText = (value: Change['from'], unit: Change['unit']): string =>
  typeof value === 'number' ? formatQuantity(value, unit ?? '1') : value.replaceAll('-', ' ');
