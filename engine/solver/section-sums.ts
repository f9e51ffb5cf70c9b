/**
 * What the cores give to the equations of the wire and of the drive lines at the end of a step: linkages, Wb, and how they
 * answer a current at that instant, H. Slopes carry the step's gain (see Difference), so that they multiply changes of the
 * currents themselves.
 */
export interface SectionSums {
  /** Entries of a role: entry role * stride + section; the last of each role is of cores that the wire does not thread. */
  readonly stride: number;
  /** Wb: sum of n s (phi + psi + phi_el), as the sense wire links it. */
  readonly flux: Float64Array;
  /** H: what the wire's own current, X, Y and the separate inhibit wire add to that flux. */
  readonly own: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly inhibit: Float64Array;
  readonly linkages: LineLinkages;
  readonly slopes: LineSlopes;
}

/** Linkages of the drive lines with the cores of this mat, Wb, and of the magnets: sum of bias times linkage, J. */
export interface LineLinkages {
  x: number;
  y: number;
  inhibit: number;
  magnets: number;
}

/** Inductance of the drive lines through the cores, H: own of X and of Y, and mutual. */
export interface LineSlopes {
  xx: number;
  yy: number;
  xy: number;
  xInhibit: number;
  yInhibit: number;
}

/** Currents of X, Y and the separate inhibit wire at one instant, A (as they flow, or as the elastic part sees them). */
export interface LineCurrents {
  x: number;
  y: number;
  inhibit: number;
}

export const noCurrents = (): LineCurrents => ({ x: 0, y: 0, inhibit: 0 });
export const noLinkages = (): LineLinkages => ({ x: 0, y: 0, inhibit: 0, magnets: 0 });

export function copyCurrents(to: LineCurrents, from: LineCurrents): void {
  to.x = from.x;
  to.y = from.y;
  to.inhibit = from.inhibit;
}

export function copyLinkages(to: LineLinkages, from: LineLinkages): void {
  to.x = from.x;
  to.y = from.y;
  to.inhibit = from.inhibit;
  to.magnets = from.magnets;
}

export function makeSums(sections: number): SectionSums {
  const stride = sections + 1;
  const make = (): Float64Array => new Float64Array(3 * stride);
  return {
    stride,
    flux: make(),
    own: make(),
    x: make(),
    y: make(),
    inhibit: make(),
    linkages: noLinkages(),
    slopes: { xx: 0, yy: 0, xy: 0, xInhibit: 0, yInhibit: 0 },
  };
}

/** Roles may leave sections from one cycle to the next. */
export function clearSums({ flux, own, x, y, inhibit }: SectionSums): void {
  for (const sum of [flux, own, x, y, inhibit]) sum.fill(0);
}

/** What section k has in all roles together. */
export const roleSum = (values: Float64Array, stride: number, k: number): number =>
  values[k]! + values[stride + k]! + values[2 * stride + k]!;

/** Sum of a[k] b[k], over the length of a. */
export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
