import type { GLOSSARY, Source } from '../../glossary.ts';

/** Where a meaning comes from, with the source's own name. */
export const sources = {
  practice: () => 'Common practice, no single source',
  here: () => 'Defined here',
  induction: () => 'Follows from the law of induction',
  reversible: () => 'Common practice, no single source; “reversible” in most texts',
  switching: (cite: string) => `Follows from the switching equation of ${cite}`,
  polarities: (cite: string) => `Follows from the polarities of the winding; compare ${cite}, as reported`,
  reported: (cite: string) => `${cite}, as reported`,
  read: (cite: string) => cite,
} as const satisfies Readonly<Record<Source['how'], (cite: string) => string>>;

export const glossary = {
  aperture: {
    term: 'Aperture',
    meaning: 'How long the strobe keeps the latch open: the detector must be right all that time.',
  },
  bell: {
    term: 'Bell',
    meaning:
      'The voltage of a core that turns from one state to the other: it rises, peaks and falls like the outline of a bell.',
  },
  checkerboard: {
    term: 'Checkerboard',
    meaning:
      'Stored bits that alternate like the fields of a chess-board, or along the sense wire’s own polarity. Often near the worst pattern, not always it.',
  },
  coincidentCurrent: {
    term: 'Coincident current',
    meaning: 'Selection by two half currents that meet in one core only; each alone stays short of the knee.',
  },
  deltaNoise: {
    term: 'Delta noise',
    meaning:
      'What is left of half-selected cores that ought to cancel, because a ONE answers a little differently from a ZERO.',
  },
  directCoupling: {
    term: 'Direct coupling',
    meaning:
      'What the sense wire picks up from the drive wires through air and insulation, with no core turning.',
  },
  disturbedZero: {
    term: 'Disturbed ZERO',
    meaning:
      'A stored ZERO after half-select pulses have moved it a little toward ONE; a disturbed ONE is the same the other way.',
  },
  elasticAnswer: {
    term: 'Elastic answer',
    meaning:
      'The flux of a core that follows the drive and springs back; it makes the spikes on the edges of the drive.',
  },
  fullSelect: {
    term: 'Full select',
    meaning:
      'What a core sees when both of its drive lines carry current: it turns if it was in the other state and nothing inhibits it.',
  },
  halfSelect: {
    term: 'Half-select',
    meaning: 'What a core sees when only one of its two drive lines carries current.',
  },
  inhibit: {
    term: 'Inhibit',
    meaning: 'A current that opposes the write in one mat, so that a ZERO stays there.',
  },
  kick: {
    term: 'Kick',
    meaning: 'The voltage of a wire whose current is turned off: inductance times the slope of the current.',
  },
  knee: { term: 'Knee', meaning: 'The bend of the loop beyond which a core begins to turn for good.' },
  latch: { term: 'Latch', meaning: 'Keeps what the detector says while the strobe is open.' },
  margin: {
    term: 'Margin',
    meaning: 'How far the least ONE lies over the threshold, or the greatest ZERO under it, at the strobe.',
  },
  mat: { term: 'Mat', meaning: 'One plane of cores: one bit of every word.' },
  opening: {
    term: 'Opening',
    meaning: 'All pairs of strobe and threshold that read right. A word of this page.',
  },
  postWriteDisturb: {
    term: 'Post-write disturb',
    meaning:
      'A half-read pulse after the write, which brings cores to the state in which later reads find them.',
  },
  remanentFlux: {
    term: 'Remanent flux',
    meaning: 'What a core holds with no current through it; a ONE and a ZERO are its two signs.',
  },
  senseWire: {
    term: 'Sense wire',
    meaning:
      'The wire that passes through every core of a mat and carries the signal; in a three-wire mat it carries the inhibit current too.',
  },
  shmoo: { term: 'Shmoo', meaning: 'A map of two settings, showing where the memory reads right.' },
  sliceLevel: { term: 'Slice level', meaning: 'The threshold that tells a ONE from a ZERO.' },
  squareness: {
    term: 'Squareness',
    meaning: 'Remanent flux over saturation flux: how flat the top of the loop is.',
  },
  staggeredRead: {
    term: 'Staggered read',
    meaning: 'One drive line starts before the other, so that its noise has gone when the core turns.',
  },
  strobe: { term: 'Strobe', meaning: 'The short time in which the latch listens to the detector.' },
  strobeWindow: {
    term: 'Strobe window',
    meaning: 'All instants at which every ONE is over the threshold and every ZERO under it.',
  },
  switchingTime: {
    term: 'Switching time',
    meaning:
      'From the start of the drive to the tenth of its peak on the fall of the bell. Times the drive beyond the threshold it is nearly constant over a range.',
  },
  temperatureCoefficient: {
    term: 'Temperature coefficient',
    meaning:
      'By how much a threshold or a flux of the core changes with each degree. Warm ferrite turns with less current, so its bell comes earlier and higher.',
  },
  tolerance: {
    term: 'Tolerance',
    meaning:
      'How far a part or a current may stray from what is stated; the corners take all of them to their ends at once.',
  },
  undisturbedOne: {
    term: 'Undisturbed ONE',
    meaning:
      'A ONE read after nothing but its own write: uV1 in handbooks. Likewise uVz, and dV1 and dVz when disturbed.',
  },
  worstPattern: {
    term: 'Worst pattern',
    meaning:
      'The stored bits that make the half-selected cores add up against the selected one. It depends on the winding and on what happened before.',
  },
  writeBack: {
    term: 'Write-back',
    meaning: 'The second half of the cycle, which puts back what the read has destroyed.',
  },
} as const satisfies Readonly<
  Record<keyof typeof GLOSSARY, { readonly term: string; readonly meaning: string }>
>;
