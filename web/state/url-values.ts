import { writeQuantity } from '../../engine/base/format-quantity.ts';
import { readQuantity } from '../../engine/base/units.ts';

/** What a broken escape stands for is not known: it stays as it is. */
export function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

const plain = (value: number): string => String(Number(value.toPrecision(7)));
export const quantity = (value: number, unit: 's' | 'V'): string =>
  writeQuantity(value, unit).replaceAll(' ', '');

export function readIn(text: string, unit: 's' | 'V'): number | undefined {
  const reading = readQuantity(text, unit);
  return reading.ok && Number.isFinite(reading.value) ? reading.value : undefined;
}

/** "90..178ns": the unit of the second holds for the first too. */
export function readPair(text: string, unit: 's' | 'V'): readonly [number, number] | undefined {
  const parts = /^(.+?)\.\.(.+)$/.exec(text);
  if (!parts) return undefined;
  const b = readIn(parts[2]!, unit);
  const suffix = parts[2]!.replace(/^[\d.,\s−-]*/, '');
  const a = readIn(/[a-zµ]/i.test(parts[1]!) ? parts[1]! : `${parts[1]!}${suffix}`, unit);
  return a === undefined || b === undefined ? undefined : [a, b];
}

export function readCore(text: string): { row: number; column: number } | undefined {
  const parts = /^(\d{1,5})\.(\d{1,5})$/.exec(text);
  return parts ? { row: Number(parts[1]), column: Number(parts[2]) } : undefined;
}

/** "0..640ns", in the unit of the second; "12.34375ns..0.64us" where the first would not be read back as it is. */
export function pairText(a: number, b: number): string {
  const end = writeQuantity(b, 's');
  const unit = end.replace(/^[^a-zµ]*/i, '');
  const factor = readIn(`1 ${unit}`, 's') ?? 1;
  const short = plain(a / factor);
  const begin = readIn(`${short} ${unit}`, 's') === a ? short : quantity(a, 's');
  return `${begin}..${end.replaceAll(' ', '')}`;
}
