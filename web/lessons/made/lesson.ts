import type { RawDesign } from '../../model/pointer.ts';
import type { Cover, Movable } from '../../state/lesson-board.ts';
import type { Unit } from '../../../engine/base/units.ts';

/**
 * A lesson as a teacher makes it: steps of the course by their ids, and questions of one's own. What stands here is
 * what stands in its file and in its link; quantities are texts with their units, as typed.
 */
export interface MadeLesson {
  readonly title: string;
  /** Fixes which number of the class gets which value of a varied input. */
  readonly seed: number;
  readonly steps: readonly MadeStep[];
}

export type MadeStep = CourseStep | OwnStep;

/** A step of the course, as it is. */
export interface CourseStep {
  readonly course: string;
}

export interface OwnStep {
  readonly title: string;
  /** What is read first. `{value}` stands for the varied input, here and in the question. */
  readonly text: string;
  readonly question: string;
  /** What the numbers mean, told after the answer. */
  readonly meaning: string;
  readonly board: RawDesign;
  readonly ask: OwnAsk;
  /** Parts of the stage that are not there until the question is answered. */
  readonly covered: readonly Cover[];
  /** What a student may move on the stage before the question is answered; all else is locked. */
  readonly movable: readonly Movable[];
  readonly varied?: Varied;
}

/** An input whose value differs from neighbour to neighbour. */
export interface Varied {
  /** JSON pointers into the board; all get the same value. */
  readonly pointers: readonly string[];
  readonly values: readonly string[];
}

/** What the engine can be asked of a board: each is one number. */
export const MEASURES = {
  bell: 'V',
  bellTime: 's',
  zeroPeak: 'V',
  oneAtStrobe: 'V',
  zeroAtStrobe: 'V',
  left: 'V',
  best: 's',
  window: 's',
} as const satisfies Readonly<Record<string, Unit>>;
export type Measure = keyof typeof MEASURES;

/** The unit in which a measure is asked and told, and how many SI units it is. */
export const SHOWN = { V: { unit: 'mV', size: 1e-3 }, s: { unit: 'ns', size: 1e-9 } } as const;

export const CURVES = ['one', 'zero', 'selected', 'half'] as const;
/** What is to be drawn: the wire's voltage of a ONE or a ZERO, or of a ONE what one cause gives. */
export type Curve = (typeof CURVES)[number];

export const DRAW_FAULTS = ['upsideDown', 'early', 'late', 'low', 'high', 'elsewhere'] as const;
export type DrawFault = (typeof DRAW_FAULTS)[number];

export type OwnAsk = ChooseAsk | NumberAsk | PlaceAsk | SetAsk | DrawAsk;

export interface ChooseAsk {
  readonly kind: 'choose';
  /** The engine says which choice is right: the one whose limits hold this number. Otherwise `right` says it. */
  readonly measure?: Measure;
  readonly right?: number;
  readonly choices: readonly OwnChoice[];
}

export interface OwnChoice {
  readonly text: string;
  readonly whyNot: string;
  /** From this on, and below that; open where left out. */
  readonly from?: string;
  readonly to?: string;
}

export interface NumberAsk {
  readonly kind: 'number';
  readonly measure: Measure;
  /** How far off still counts as right, in per cent of what is so. */
  readonly within: number;
  readonly tooLow: string;
  readonly tooHigh: string;
}

/** Strobe or threshold is put where at least so much is left. */
export interface PlaceAsk {
  readonly kind: 'place';
  readonly moved: 'strobe' | 'threshold';
  readonly least: string;
  readonly tooLow: string;
  readonly tooHigh: string;
}

/** An input is set so that a number comes to a target. */
export interface SetAsk {
  readonly kind: 'set';
  readonly name: string;
  readonly pointers: readonly string[];
  readonly unit: Unit;
  readonly from: string;
  readonly to: string;
  /** Places of the slider. */
  readonly places: number;
  readonly measure: Measure;
  readonly sense: 'atLeast' | 'atMost';
  readonly target: string;
  readonly tooLow: string;
  readonly tooHigh: string;
}

export interface DrawAsk {
  readonly kind: 'draw';
  readonly curve: Curve;
  /** Where the points stand. */
  readonly at: readonly string[];
  /** Top of the empty plot; it goes down to a third of that below zero. */
  readonly most: string;
  /** How far off still counts as right, on average over the points. */
  readonly within: string;
  readonly whyNot: Readonly<Partial<Record<DrawFault, string>>>;
}

export const isOwn = (step: MadeStep): step is OwnStep => !('course' in step);

/** Limits of a lesson, so that a code stays one that can be typed. */
export const MOST = {
  steps: 24,
  choices: 8,
  points: 12,
  values: 12,
  places: 41,
  text: 2000,
  seed: 9999,
} as const;
/** Numbers that students of one class may give themselves. */
export const MOST_STUDENTS = 999;
