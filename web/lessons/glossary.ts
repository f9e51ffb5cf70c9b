/** How a meaning is known; `cite` as the source names itself. */
export interface Source {
  readonly how:
    'practice' | 'here' | 'induction' | 'reversible' | 'switching' | 'polarities' | 'reported' | 'read';
  readonly cite?: string;
}

/** The trade's words, under the keys that each language has a term for, and where each is used in this sense. */
export const GLOSSARY = {
  aperture: { how: 'practice' },
  bell: {
    how: 'switching',
    cite: '“Computation of flux switching in magnetic circuits”, IEEE Transactions on Magnetics, September 1965',
  },
  checkerboard: { how: 'polarities', cite: 'US patent 3,646,531 (1972)' },
  coincidentCurrent: {
    how: 'reported',
    cite: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478',
  },
  deltaNoise: { how: 'practice' },
  directCoupling: { how: 'read', cite: 'Mayer and others, IBM Technical Disclosure Bulletin, February 1967' },
  disturbedZero: { how: 'reported', cite: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478' },
  elasticAnswer: { how: 'reversible' },
  fullSelect: { how: 'reported', cite: 'W. N. Papian, Proceedings of the IRE 40(4), 1952, pp. 475–478' },
  halfSelect: { how: 'reported', cite: 'US patent 3,646,531 (1972)' },
  inhibit: { how: 'reported', cite: 'PDP-8/E maintenance manual, volume 1, 1973' },
  kick: { how: 'induction' },
  knee: { how: 'practice' },
  latch: { how: 'practice' },
  margin: { how: 'practice' },
  mat: { how: 'practice' },
  opening: { how: 'here' },
  postWriteDisturb: { how: 'practice' },
  remanentFlux: { how: 'practice' },
  senseWire: { how: 'reported', cite: 'US patent 3,564,517 (1971)' },
  shmoo: { how: 'practice' },
  sliceLevel: { how: 'practice' },
  squareness: { how: 'practice' },
  staggeredRead: {
    how: 'read',
    cite: 'Councill and others, IBM Technical Disclosure Bulletin, September 1960',
  },
  strobe: { how: 'reported', cite: 'PDP-8/E maintenance manual, volume 1, 1973' },
  strobeWindow: { how: 'practice' },
  switchingTime: {
    how: 'read',
    cite: '“Square-loop ferrite switching from 5 µs to 10 ns”, Journal of Applied Physics, supplement, 1959',
  },
  temperatureCoefficient: { how: 'reported', cite: 'IBM 1800 maintenance manual SY26-5956-6' },
  tolerance: { how: 'practice' },
  undisturbedOne: { how: 'practice' },
  worstPattern: { how: 'read', cite: 'J. Raffel, MIT memorandum M-2919, 1954' },
  writeBack: { how: 'practice' },
} as const satisfies Readonly<Record<string, Source>>;
