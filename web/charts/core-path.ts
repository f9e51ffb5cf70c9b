/** How a core lies on the wire, as the tilt of its ring. */
export const tiltOf = (polarity: ArrayLike<number>, index: number): 1 | -1 =>
  (polarity[index] ?? 1) > 0 ? 1 : -1;

export const round = (value: number): number => Math.round(value * 10) / 10;

/** A ring seen nearly on edge, tilted 45° to the one or the other side. */
export function corePath(
  cx: number,
  cy: number,
  r: number,
  tilt: 1 | -1,
  part: 'whole' | 'near' = 'whole',
): string {
  const dx = round(r * Math.SQRT1_2);
  const dy = round(r * Math.SQRT1_2 * -tilt);
  const half = (sx: number, sy: number) => `a${round(r)},${round(r * 0.42)} ${-45 * tilt} 0 1 ${sx},${sy}`;
  const near = `M${round(cx - dx)},${round(cy - dy)}${half(2 * dx, 2 * dy)}`;
  return part === 'near' ? near : `${near}${half(-2 * dx, -2 * dy)}Z`;
}
