import type { Design } from '../design/design.ts';

/** One thing that is not known exactly, counted in standard deviations `z` from the design's own value. */
export interface Direction {
  /** Unknown of a fit, property of a core, or pointer of a design field. */
  readonly name: string;
  readonly kind: 'fitted' | 'core' | 'assumed' | 'drive';
  /** Ends between which slopes are taken. */
  readonly low: number;
  readonly high: number;
  /** How far either way it can go at all, where that is farther. */
  readonly farthest?: number;
  /** Of something read: how much the reading is, as a factor, per unit of z. */
  readonly factor?: number;
  /** Where it lies before the captures are counted: middle and standard deviation, in z. */
  readonly middle: number;
  readonly spread: number;
  /** A design with it moved; directions may be moved one after the other. */
  at(design: Design, z: number): Design;
}
