export interface Term {
  readonly term: string;
  readonly meaning: string;
  /** Where the word is used in this sense. */
  readonly source: string;
}

const PRACTICE = 'Common practice, no single source';

/** The trade's words as this page uses them. */
export const GLOSSARY: readonly Term[] = [
  {
    term: 'Aperture',
    meaning: 'How long the strobe keeps the latch open: the detector must be right all that time.',
    source: PRACTICE,
  },
  {
    term: 'Bell',
    meaning:
      'The voltage of a core that turns from one state to the other: it rises, peaks and falls like the outline of a bell.',
    source:
      'Follows from the switching equation of “Computation of flux switching in magnetic circuits”, IEEE Transactions on Magnetics, September 1965',
  },
  {
    term: 'Checkerboard',
    meaning:
      'Stored bits that alternate like the fields of a chess-board, or along the sense wire’s own polarity. Often near the worst pattern, not always it.',
    source: 'Follows from the polarities of the winding; compare US patent 3,646,531 (1972), as reported',
  },
  {
    term: 'Coincident current',
    meaning: 'Selection by two half currents that meet in one core only; each alone stays short of the knee.',
    source: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478, as reported',
  },
  {
    term: 'Delta noise',
    meaning:
      'What is left of half-selected cores that ought to cancel, because a ONE answers a little differently from a ZERO.',
    source: PRACTICE,
  },
  {
    term: 'Direct coupling',
    meaning:
      'What the sense wire picks up from the drive wires through air and insulation, with no core turning.',
    source: 'Mayer and others, IBM Technical Disclosure Bulletin, February 1967',
  },
  {
    term: 'Disturbed ZERO',
    meaning:
      'A stored ZERO after half-select pulses have moved it a little toward ONE; a disturbed ONE is the same the other way.',
    source: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478, as reported',
  },
  {
    term: 'Elastic answer',
    meaning:
      'The flux of a core that follows the drive and springs back; it makes the spikes on the edges of the drive.',
    source: 'Common practice, no single source; “reversible” in most texts',
  },
  {
    term: 'Full select',
    meaning:
      'What a core sees when both of its drive lines carry current: it turns if it was in the other state and nothing inhibits it.',
    source: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478, as reported',
  },
  {
    term: 'Half-select',
    meaning: 'What a core sees when only one of its two drive lines carries current.',
    source: 'US patent 3,646,531 (1972), as reported',
  },
  {
    term: 'Inhibit',
    meaning: 'A current that opposes the write in one mat, so that a ZERO stays there.',
    source: 'PDP-8/E maintenance manual, volume 1, 1973, as reported',
  },
  {
    term: 'Kick',
    meaning: 'The voltage of a wire whose current is turned off: inductance times the slope of the current.',
    source: 'Follows from the law of induction',
  },
  {
    term: 'Knee',
    meaning: 'The bend of the loop beyond which a core begins to turn for good.',
    source: PRACTICE,
  },
  { term: 'Latch', meaning: 'Keeps what the detector says while the strobe is open.', source: PRACTICE },
  {
    term: 'Margin',
    meaning: 'How far the least ONE lies over the threshold, or the greatest ZERO under it, at the strobe.',
    source: PRACTICE,
  },
  { term: 'Mat', meaning: 'One plane of cores: one bit of every word.', source: PRACTICE },
  {
    term: 'Opening',
    meaning: 'All pairs of strobe and threshold that read right. A word of this page.',
    source: 'Defined here',
  },
  {
    term: 'Post-write disturb',
    meaning:
      'A half-read pulse after the write, which brings cores to the state in which later reads find them.',
    source: PRACTICE,
  },
  {
    term: 'Remanent flux',
    meaning: 'What a core holds with no current through it; a ONE and a ZERO are its two signs.',
    source: PRACTICE,
  },
  {
    term: 'Sense wire',
    meaning:
      'The wire that passes through every core of a mat and carries the signal; in a three-wire mat it carries the inhibit current too.',
    source: 'US patent 3,564,517 (1971), as reported',
  },
  {
    term: 'Shmoo',
    meaning: 'A map of two settings, showing where the memory reads right.',
    source: PRACTICE,
  },
  { term: 'Slice level', meaning: 'The threshold that tells a ONE from a ZERO.', source: PRACTICE },
  {
    term: 'Squareness',
    meaning: 'Remanent flux over saturation flux: how flat the top of the loop is.',
    source: PRACTICE,
  },
  {
    term: 'Staggered read',
    meaning: 'One drive line starts before the other, so that its noise has gone when the core turns.',
    source: 'Councill and others, IBM Technical Disclosure Bulletin, September 1960',
  },
  {
    term: 'Strobe',
    meaning: 'The short time in which the latch listens to the detector.',
    source: 'PDP-8/E maintenance manual, volume 1, 1973, as reported',
  },
  {
    term: 'Strobe window',
    meaning: 'All instants at which every ONE is over the threshold and every ZERO under it.',
    source: PRACTICE,
  },
  {
    term: 'Switching time',
    meaning:
      'From the start of the drive to the tenth of its peak on the fall of the bell. Times the drive beyond the threshold it is nearly constant over a range.',
    source:
      '“Square-loop ferrite switching from 5 µs to 10 ns”, Journal of Applied Physics, supplement, 1959',
  },
  {
    term: 'Temperature coefficient',
    meaning:
      'By how much a threshold or a flux of the core changes with each degree. Warm ferrite turns with less current, so its bell comes earlier and higher.',
    source: 'IBM 1800 maintenance manual SY26-5956-6, as reported',
  },
  {
    term: 'Tolerance',
    meaning:
      'How far a part or a current may stray from what is stated; the corners take all of them to their ends at once.',
    source: PRACTICE,
  },
  {
    term: 'Undisturbed ONE',
    meaning:
      'A ONE read after nothing but its own write: uV1 in handbooks. Likewise uVz, and dV1 and dVz when disturbed.',
    source: PRACTICE,
  },
  {
    term: 'Worst pattern',
    meaning:
      'The stored bits that make the half-selected cores add up against the selected one. It depends on the winding and on what happened before.',
    source: 'J. Raffel, MIT memorandum M-2919, 1954',
  },
  {
    term: 'Write-back',
    meaning: 'The second half of the cycle, which puts back what the read has destroyed.',
    source: PRACTICE,
  },
];
