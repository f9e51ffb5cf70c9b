import { describe, expect, it } from 'vitest';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { randomDesign } from '../../random-design.ts';
import { fullProduct } from './full-product.ts';

describe('least ONE and greatest ZERO at the corners', () => {
  // Its least ONE lies in the other disturb state and at the other end of the drive from where single changes lead.
  it.each([18])('are those of the full product, each case run by itself, in random design %i', (seed) => {
    const design = randomDesign(seed, { largest: 3 });
    const { corners, inForce, cases } = strobeWindow(design, { cases: 'corners' });
    const all = fullProduct(design, inForce.time);
    expect(cases.length).toBeLessThan(all.runs);
    expect(Math.abs(inForce.threshold + corners!.margin.one - all.one)).toBeLessThan(20e-6);
    expect(Math.abs(inForce.threshold - corners!.margin.zero - all.zero)).toBeLessThan(20e-6);
  });
});
