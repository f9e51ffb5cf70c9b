import { parseQuantity } from '../../../engine/base/units.ts';
import type { Coded } from './answer-code.ts';
import { meanDifference, topOf } from './evaluate.ts';
import type { OwnTruth } from './evaluated.ts';
import { reaches } from './scans.ts';
import { levelVolts } from './levels.ts';
import { MEASURES, SHOWN, type DrawAsk, type DrawFault, type OwnAsk } from './lesson.ts';

/** How near an answer to a question of one's own came; `fault`: which why-not belongs to it. */
export interface OwnScore {
  readonly right: boolean;
  /** Of a drawing, V on average; of a number, a part of what is so. */
  readonly off?: number;
  /** Of a slider's place: what comes of it. */
  readonly got?: number;
  readonly fault?: 'chosen' | 'low' | 'high' | DrawFault;
}

/** Holds an answer against what the engine says. Throws where they are not of one kind. */
export function scoreOwn(ask: OwnAsk, truth: OwnTruth, answer: Coded): OwnScore {
  if (truth.kind === 'choose' && answer.kind === 'choose') {
    const right = answer.chosen === truth.right;
    return right ? { right } : { right, fault: 'chosen' };
  }
  if (ask.kind === 'number' && truth.kind === 'number' && answer.kind === 'number') {
    const value = answer.value * SHOWN[MEASURES[ask.measure]].size;
    const off = (value - truth.value) / (Math.abs(truth.value) || 1);
    const right = Math.abs(off) * 100 <= ask.within;
    return right ? { right, off } : { right, off, fault: off < 0 ? 'low' : 'high' };
  }
  if (truth.kind === 'scan' && answer.kind === 'index' && answer.index < truth.at.length) {
    const right = reaches(truth, answer.index);
    const got = truth.got[answer.index]!;
    return right ? { right, got } : { right, got, fault: answer.index < truth.best ? 'low' : 'high' };
  }
  if (ask.kind === 'draw' && truth.kind === 'draw' && answer.kind === 'levels')
    return scoreDrawing(
      ask,
      truth,
      answer.levels.map((level) => levelVolts(topOf(ask), level)),
    );
  throw new TypeError(`A question of kind ${ask.kind} was answered by ${answer.kind}.`);
}

/** A drawn peak may lie beside the one that is so by one point. */
const BESIDE = 1;
/** A mean that differs by less than this part is not what is wrong. */
const ALIKE = 0.25;

function scoreDrawing(
  ask: DrawAsk,
  { so }: Extract<OwnTruth, { kind: 'draw' }>,
  drawn: readonly number[],
): OwnScore {
  const off = meanDifference(drawn, so);
  if (off <= parseQuantity(ask.within, 'V')) return { right: true, off };
  return { right: false, off, fault: drawFault(drawn, so) };
}

/** What of a drawing is wrong most of all: its sense, when it comes to its peak, or its height. */
function drawFault(drawn: readonly number[], so: readonly number[]): DrawFault {
  const along = drawn.reduce((sum, value, k) => sum + value * so[k]!, 0);
  if (along < 0) return 'upsideDown';
  const peak = (values: readonly number[]): number =>
    values.reduce((best, value, k) => (Math.abs(value) > Math.abs(values[best]!) ? k : best), 0);
  const late = peak(drawn) - peak(so);
  if (late < -BESIDE) return 'early';
  if (late > BESIDE) return 'late';
  const size = (values: readonly number[]): number => values.reduce((sum, v) => sum + Math.abs(v), 0);
  const ratio = size(drawn) / (size(so) || 1);
  if (ratio < 1 - ALIKE) return 'low';
  return ratio > 1 + ALIKE ? 'high' : 'elsewhere';
}
