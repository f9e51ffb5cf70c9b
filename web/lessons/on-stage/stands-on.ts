import type { Cover, Movable } from '../../state/lesson-board.ts';

/** How the stage stands while a step is played on it. */
export interface StandsOn {
  /** Not there until the question is answered. */
  readonly covered: readonly Cover[];
  /** What may be moved until then, besides the instant and the core that is looked at. */
  readonly movable: readonly Movable[];
  readonly bit?: 0 | 1;
  readonly heard?: 'wire' | 'amplifier' | 'latch';
  /** s shown; undefined: as the design's own read asks for. */
  readonly span?: { readonly from: number; readonly to: number } | undefined;
  /** s: where the clock stands at first; left out: at the strobe, or at the beginning where that is not shown. */
  readonly instant?: number;
  /** V at which the scale is held; left out: it follows the traces. */
  readonly scale?: number;
}

const ALL_BUT_CURRENTS = ['signal', 'causes', 'margin', 'ring', 'mat'] as const;
const ALL = [...ALL_BUT_CURRENTS, 'currents'] as const;
/** s: a read of the learning board without the edge that ends it. */
const READ = { from: 0, to: 0.79e-6 };
/** s: a whole cycle of the learning board, its write included. */
const CYCLE = { from: 0, to: 2.4e-6 };

/** What a step shows of its answer is covered; the wire is heard with its sign unless the strobe is what it is about. */
export const STANDS: Readonly<Record<string, Partial<StandsOn>>> = {
  'write-back': { span: CYCLE },
  // The wire is seen; which of its causes is the largest part of it is asked for.
  hears: { covered: ['causes', 'margin', 'mat', 'ring'] },
  zero: { bit: 0 },
  drown: { bit: 0 },
  cancel: { bit: 0 },
  pattern: { bit: 0 },
  // What is hunted for is seen to grow; the clock stands where the edge is over.
  hunt: { covered: ['margin'], movable: ['bits'], bit: 0, instant: 150e-9 },
  strobe: { covered: ['margin'], movable: ['strobe'], heard: 'latch' },
  'strobe-32': { covered: ['margin'], movable: ['strobe'], heard: 'latch' },
  'how-much-current': { covered: ['margin'], movable: ['drivers'], heard: 'latch' },
  'two-windings': { heard: 'latch' },
  drift: { heard: 'latch' },
  inhibit: { covered: ALL, bit: 0, span: CYCLE },
  wires: { covered: ALL, bit: 0, span: CYCLE },
  // The stage says nothing of how many drivers there are.
  drivers: { covered: ['margin'] },
  // What is compared with the bell is many times as high.
  recover: { bit: 0, span: CYCLE, scale: 0.64 },
  'recover-64': {
    bit: 0,
    heard: 'amplifier',
    span: { from: 1.8e-6, to: 2.3e-6 },
    scale: 0.32,
    instant: 2.3e-6,
  },
  magnet: { span: CYCLE },
  // What the currents do would tell which fault it is.
  'capture-1': { covered: ALL },
  'capture-2': { covered: ALL },
  'capture-3': { covered: ALL },
  // Another core, with pulses of its own.
  'real-capture': { span: undefined },
  slice: { covered: ['margin'], movable: ['threshold'], heard: 'latch' },
  'own-board': {
    covered: [],
    movable: ['strobe', 'threshold', 'drivers', 'mat', 'wire', 'amplifier'],
    heard: 'latch',
    span: undefined,
  },
};

export const standsOn = (step: string): StandsOn => ({
  covered: ALL_BUT_CURRENTS,
  movable: [],
  heard: 'wire',
  span: READ,
  ...STANDS[step],
});
