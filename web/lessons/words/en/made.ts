import type { Cover, Movable } from '../../../state/lesson-board.ts';
import type { Curve, DrawFault, Measure } from '../../made/lesson.ts';
import { play, file } from './made-play.ts';
import { maker, refusals, reached } from './made-maker.ts';
import { tally, sheets } from './made-paper.ts';

/** All that the maker, lessons of one's own, their tallies and sheets say, in English. Another language has the same shape. */
export const made = {
  language: 'en',
  measures: {
    bell: 'Height of the selected core’s bell',
    bellTime: 'When that bell has its peak',
    zeroPeak: 'Greatest voltage on the wire while a ZERO is read',
    oneAtStrobe: 'Least ONE at the strobe',
    zeroAtStrobe: 'Greatest ZERO at the strobe',
    left: 'Margin left, as designed',
    best: 'Best instant of the strobe',
    window: 'Width of the window',
  } satisfies Record<Measure, string>,
  curves: {
    one: 'the wire, a ONE',
    zero: 'the wire, a ZERO',
    selected: 'selected core',
    half: 'half-selected cores',
  } satisfies Record<Curve, string>,
  lines: { leastOne: 'least ONE', greatestZero: 'greatest ZERO', drawn: 'drawn' },
  covers: {
    signal: 'signal',
    causes: 'causes',
    currents: 'currents',
    margin: 'margin',
    ring: 'ring',
    mat: 'mat',
  } satisfies Record<Cover, string>,
  movables: {
    strobe: 'strobe',
    threshold: 'threshold',
    bits: 'stored bits',
    drivers: 'drivers',
    mat: 'mat',
    wire: 'wire',
    amplifier: 'amplifier',
    detector: 'detector',
    latch: 'latch',
  } satisfies Record<Movable, string>,
  kinds: {
    choose: 'choosing',
    number: 'a number',
    place: 'placing',
    set: 'setting an input',
    draw: 'drawing',
  },
  moved: { strobe: 'the strobe', threshold: 'the threshold' },
  senses: { atLeast: 'at least', atMost: 'at most' },
  faults: {
    upsideDown: 'Upside down',
    early: 'Peak too early',
    late: 'Peak too late',
    low: 'Too low',
    high: 'Too high',
    elsewhere: 'Otherwise not alike',
  } satisfies Record<DrawFault, string>,
  drawing: {
    upsideDown: 'It points the other way: compare the two curves.',
    early: 'Your peak comes too early: look where it is.',
    late: 'Your peak comes too late: look where it is.',
    low: 'The shape is there, but there is more of it.',
    high: 'The shape is there, but there is less of it.',
    elsewhere: 'Peak and height are about right; compare the rest below.',
  } satisfies Record<DrawFault, string>,
  play,
  file,
  maker,
  refusals,
  reached,
  tally,
  sheets,
};
