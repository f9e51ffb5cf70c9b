import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import { findOpening } from '../../engine/strobe/intervals.ts';
import type { StrobeWindow } from '../../engine/strobe/window-result.ts';

export type Region = StrobeWindow['opening'];

/** The plane of strobe time and threshold: where ONE and ZERO are told apart, less and less of it the more is counted. */
export interface Openings {
  /** ONE over, ZERO under: nothing uncertain. */
  readonly exact: Region;
  /** Less the stated uncertainties of threshold and strobe. */
  readonly stated: Region;
  /** Less the corners too; undefined while they are not computed. */
  readonly corners: Region | undefined;
}

const cache = new WeakMap<StrobeEnsemble, Openings>();

export function openingsOf(ensemble: StrobeEnsemble): Openings {
  const known = cache.get(ensemble);
  if (known) return known;
  const { envelope, uncertainties, opening, corners } = ensemble;
  const made: Openings = {
    exact: findOpening(envelope, { ...uncertainties, threshold: 0, guard: 0 }),
    stated: opening,
    corners: corners && findOpening(corners.envelope, corners.uncertainties),
  };
  cache.set(ensemble, made);
  return made;
}

/** A region cut where it closes and opens again; `step`: s between neighbouring samples. */
export function piecesOf(region: Region, step: number): readonly Region[] {
  const pieces: Region[number][][] = [];
  for (const place of region) {
    const piece = pieces.at(-1);
    if (piece && place.time - piece.at(-1)!.time < 1.5 * step) piece.push(place);
    else pieces.push([place]);
  }
  return pieces;
}

/** The widest piece: from and to, s, and its lowest and highest threshold, V; undefined where nothing is open. */
export function sizeOfRegion(
  region: Region,
  step: number,
): { readonly from: number; readonly to: number; readonly low: number; readonly high: number } | undefined {
  const piece = [...piecesOf(region, step)].sort((a, b) => b.length - a.length)[0];
  if (!piece) return undefined;
  return {
    from: piece[0]!.time,
    to: piece.at(-1)!.time,
    low: Math.min(...piece.map(({ low }) => low)),
    high: Math.max(...piece.map(({ high }) => high)),
  };
}
