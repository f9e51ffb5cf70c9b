import { formatQuantity } from '../base/format-quantity.ts';

/** To three digits. */
export const q3 = (value: number, unit: Parameters<typeof formatQuantity>[1]): string =>
  formatQuantity(value, unit, 3);
export const BOX = '<span class="box" role="img" aria-label="to tick"></span>';
export const WRITE = '<span class="write" role="img" aria-label="to fill in">&nbsp;</span>';
