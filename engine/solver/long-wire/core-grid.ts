import { driveActivity, type CycleProgramme } from '../../drive/programme.ts';
import type { Problem } from '../run-problem.ts';
import { frontStep, type Pace, type StepRule, type TimeGrid } from '../time-grid.ts';

/** Instants at which cores are moved, and in how many steps the wire takes the way to the next. */
export interface CoreGrid extends TimeGrid {
  /** Of the core step that starts at the instant. */
  readonly parts: Int32Array;
  /** Of the wire in all. */
  readonly steps: number;
}

/** Wire steps of this loop over those of the coupled one: no cores have to be solved with them (measured, N3). */
const WIDER = 1.4;
/** First step after a slope jump over that of the coupled loop, and its growth. */
const FIRST = 2;
const GROWTH = 1.12;
/** A core step is at most this part of the time since the slope jump: charge and elastic flux move with it. */
const YOUNG = 1 / 16;
/** s, longest core step while a current moves, while it stands, and while none is driven. */
const LONGEST = { edge: 0.5e-9, hold: 2e-9, calm: 8e-9 } as const;

/**
 * A wire longer than these, s, takes up to twice such core steps, outside of edges and on them: what its fronts and its
 * sections are wrong by outweighs the cores' part (64 x 64, 24 ns, and 128 x 128, 94 ns: no error grows by a tenth; 32 x 32,
 * of 6 ns, would be wrong by half as much again between edges).
 */
const SLOW = { edge: 48e-9, hold: 12e-9, calm: 12e-9 } as const;
const slower = ({ transit }: StepRule, kind: keyof typeof SLOW): number =>
  Math.min(2, Math.max(1, transit / SLOW[kind]));

/** Core steps of a cycle up to `end`, s; `refine` as for buildGrid. */
export function coreGrid({ refine }: Problem, programme: CycleProgramme, end: number, pace: Pace): CoreGrid {
  const inside = programme.jumps.filter((t) => t > 1e-13 && t < end - 1e-13);
  const marks = [0, ...inside, end];
  const time = [0];
  const restart: number[] = [];
  const parts: number[] = [];
  for (let m = 0; m + 1 < marks.length; m++) {
    const from = marks[m]!;
    const to = marks[m + 1]!;
    const steps = refined(segment(to - from, pace(to), driveActivity(programme, from, to)), refine);
    steps.forEach((step, i) => {
      restart.push(i === 0 ? 1 : 0);
      parts.push(step.parts);
      time.push(i === steps.length - 1 ? to : time.at(-1)! + step.length);
    });
  }
  restart.push(0);
  return {
    time: Float64Array.from(time),
    restart: Uint8Array.from(restart),
    parts: Int32Array.from(parts),
    steps: parts.reduce((sum, count) => sum + count, 0),
  };
}

/** Of the time along the wire: what runs to and fro on it moves the cores too, for as long as it lasts. */
const RINGING = 1 / 16;

/** s, longest core step at an age, s, for cores that hear what runs to and fro: its error goes with the square of the step. */
const ringing = (rule: StepRule, age: number): number => {
  const { transit, fade } = rule;
  return RINGING * slower(rule, 'hold') * transit * Math.exp((fade / 2) * Math.max(0, age - transit));
};

/** A core step: s, and wire steps in it. */
interface Piece {
  readonly length: number;
  readonly parts: number;
}

/** An even number of core steps that fill `length`, s, after a slope jump. */
function segment(length: number, rule: StepRule, kind: keyof typeof LONGEST): Piece[] {
  const most = WIDER * { edge: rule.edgeMax, hold: rule.max, calm: rule.calmMax }[kind];
  const times = slower(rule, 'hold');
  const longest = slower(rule, kind) * LONGEST[kind];
  const pieces: Piece[] = [];
  let age = 0;
  let growing = Math.min(FIRST * rule.first, most);
  while (age < length * (1 - 1e-12) || pieces.length % 2 === 1) {
    const step = Math.min(growing, WIDER * frontStep(rule, age), most);
    const wanted = Math.min(longest, ringing(rule, age), Math.max(step, age * times * YOUNG));
    const parts = Math.max(1, Math.round(wanted / step));
    pieces.push({ length: step * parts, parts });
    age += step * parts;
    growing *= GROWTH ** parts;
  }
  const scale = length / age;
  return pieces.map((piece) => ({ ...piece, length: piece.length * scale }));
}

/** Every piece cut in `refine` equal ones; below 1: pieces joined in pairs, each with its own number of wire steps less half. */
function refined(pieces: readonly Piece[], refine: number): readonly Piece[] {
  const cut = Math.max(1, Math.round(refine));
  if (cut === 1 && refine >= 1) return pieces;
  if (refine >= 1)
    return pieces.flatMap((p) =>
      Array.from({ length: cut }, () => ({ length: p.length / cut, parts: p.parts })),
    );
  const joined: Piece[] = [];
  for (let i = 0; i + 1 < pieces.length; i += 2) {
    const [a, b] = [pieces[i]!, pieces[i + 1]!];
    joined.push({ length: a.length + b.length, parts: Math.max(a.parts, b.parts) });
  }
  return joined;
}
