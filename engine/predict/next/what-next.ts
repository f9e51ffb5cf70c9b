import { afterSeeing } from '../../numerics/gaussian.ts';
import { lesserInterval } from '../figures.ts';
import { outlookOn, type OutlookRequest } from '../outlook.ts';
import { MAT_CANDIDATES } from '../price.ts';
import { candidatesFor, shownOf, type Candidate } from './candidates.ts';

/** A measurement, and what it would do for the margin's interval. */
export interface Ranked {
  readonly take: Candidate;
  /** V: width of the margin's 95 % interval that is expected after it, and how much less than now. */
  readonly width: number;
  readonly narrows: number;
  /** V: ends of the interval as expected, about the middle that is told now. */
  readonly low: number;
  readonly high: number;
}

/** What to measure next, most telling first. V. */
export interface WhatNext {
  /** The margin at the corners as told now, with its 95 % interval along straight lines. */
  readonly margin: { readonly value: number; readonly low: number; readonly high: number };
  readonly ranked: readonly Ranked[];
  readonly captures: number;
  /** Conditions under which single cores are read: A, s. */
  readonly test: { readonly fullDrive: number; readonly rise: number };
  readonly runs: number;
}

/** The sides of the margin at the corners. */
const SIDES = ['cornerOne', 'cornerZero'] as const;

/**
 * Ranks what could be measured by how far each single thing would narrow the 95 % interval of the margin at the corners (V):
 * the width expected after it if everything depends in straight lines on what is unknown and all errors are normal. Whatever
 * is found, the width comes out so; where the middle will lie nobody knows before. Throws DesignError, FitError or FitCancelled.
 */
export function whatNext(request: OutlookRequest): WhatNext {
  const outlook = outlookOn(request, (ends) => ends * MAT_CANDIDATES);
  const now = lesserInterval(outlook, SIDES);
  const least = Math.min(...SIDES.map((side) => outlook.base.figures[side]));
  const width = now.high - now.low;
  const ranked = candidatesFor(outlook)
    .flatMap((take): Ranked[] => {
      const shown = shownOf(outlook, take);
      if (shown === undefined) return [];
      const { covariance } = afterSeeing(outlook.known, shown.slopes, shown.errors);
      const { low, high } = lesserInterval(outlook, SIDES, { mean: outlook.known.mean, covariance });
      return [{ take, width: high - low, narrows: Math.max(0, width - (high - low)), low, high }];
    })
    .sort((a, b) => b.narrows - a.narrows);
  outlook.runs.finish();
  const { fullDrive, rise } = outlook.design.core.test;
  return {
    margin: { value: least, ...now },
    ranked,
    captures: outlook.told.captures.length,
    test: { fullDrive, rise },
    runs: outlook.runs.count,
  };
}
