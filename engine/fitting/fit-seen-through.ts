/** What each capture has of its own in a fit: s, V and, when free, its gain and the logarithm of its bandwidth over the start's. */
export type Extra = 'shift' | 'offset' | 'gain' | 'bandwidth';

/** How a capture was seen, as far as that is known. */
interface SeenThrough {
  readonly probeGain?: 'fixed' | 'free';
  /** Hz. */
  readonly bandwidth?: number;
  readonly freeBandwidth?: boolean;
}

/** Hz: where a search for an instrument's bandwidth starts that nothing is known of. */
const USUAL_BANDWIDTH = 100e6;

export const extrasOf = ({ probeGain, freeBandwidth }: SeenThrough): Extra[] => [
  'shift',
  'offset',
  ...(probeGain === 'free' ? (['gain'] as const) : []),
  ...(freeBandwidth === true ? (['bandwidth'] as const) : []),
];

/** Hz through which a capture is taken to be seen before anything is fitted. */
export const bandwidthBefore = ({ bandwidth, freeBandwidth }: SeenThrough): number =>
  bandwidth ?? (freeBandwidth === true ? USUAL_BANDWIDTH : Infinity);
