import type { CoreParameters } from '../design/core.ts';

export type CoreSize = Pick<CoreParameters, 'outsideDiameter' | 'insideDiameter' | 'height'>;

/** Magnetic constant, H/m, as it was exact before 2019 (the difference is under 1e-9). */
export const MU_0 = 4e-7 * Math.PI;
/** One oersted in A/m: 1000/(4 pi), the definition of the unit. */
export const OERSTED = 1000 / (4 * Math.PI);

/** Cross-section of a toroid of rectangular section, m²: (OD - ID)/2 * height. */
export const coreArea = (c: CoreSize): number => ((c.outsideDiameter - c.insideDiameter) / 2) * c.height;

/** Mean diameter, m. */
export const meanDiameter = (c: CoreSize): number => (c.outsideDiameter + c.insideDiameter) / 2;

/**
 * Greatest spread of thresholds over the rings of a core, 1: the field at the inside and outside diameter against that
 * at the mean, (OD - ID)/(OD + ID), derived from Ampère's law. A real core shows less (see core/model.ts).
 */
export const greatestRingSpread = (c: Pick<CoreSize, 'outsideDiameter' | 'insideDiameter'>): number =>
  (c.outsideDiameter - c.insideDiameter) / (c.outsideDiameter + c.insideDiameter);

/** Field H = F/(pi D), A/m, at a diameter D (m) for F ampere-turns (A): Ampère's law. */
export const fieldAt = (F: number, diameter: number): number => F / (Math.PI * diameter);

export const toOersted = (amperePerMetre: number): number => amperePerMetre / OERSTED;

/** Field at the inside, mean and outside diameter, in A/m and Oe. */
export interface CoreField {
  readonly inside: { readonly amperePerMetre: number; readonly oersted: number };
  readonly mean: { readonly amperePerMetre: number; readonly oersted: number };
  readonly outside: { readonly amperePerMetre: number; readonly oersted: number };
}

export function coreField(c: CoreSize, F: number): CoreField {
  const at = (diameter: number): CoreField['mean'] => {
    const amperePerMetre = fieldAt(F, diameter);
    return { amperePerMetre, oersted: toOersted(amperePerMetre) };
  };
  return { inside: at(c.insideDiameter), mean: at(meanDiameter(c)), outside: at(c.outsideDiameter) };
}

/** Mean flux density at a flux phi (Wb), T. */
export const fluxDensity = (c: CoreSize, phi: number): number => phi / coreArea(c);
