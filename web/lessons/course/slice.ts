import { checkDesign } from '../../../engine/check/check-design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import { withValueAt } from '../../model/pointer.ts';
import { setIndex, setValue, type SetAsk } from '../moved.ts';
import { NEAR } from '../score.ts';
import type { Step } from '../step.ts';
import { bothBits, grow, seconds, tell, tellPair, volts } from './bench.ts';
import { AT_LATCH, placeOf } from './judge.ts';

/** Steps of 0.1 mV, as the stage's own grip takes. */
const THRESHOLD: SetAsk = {
  kind: 'set',
  pointers: ['/detector/threshold'],
  from: 10e-3,
  to: 40e-3,
  places: 301,
  unit: 'V',
};
/** Places apart at which it is looked for first. */
const COARSE = 10;
const large = withValueAt(grow(32), '/detector/threshold', '18 mV');

/** The window at a place of the slider, with the strobe at its best for it; the cases are run once. */
let atPlace: ((index: number) => StrobeWindow) | undefined;

function judged(): (index: number) => StrobeWindow {
  if (atPlace) return atPlace;
  const ensemble = runEnsemble(checkDesign(large), { simulate, cases: 'quick' });
  if (!('envelope' in ensemble)) throw new Error('The mat of 32 × 32 could not be judged.');
  atPlace = (index) => windowOf(ensemble, { time: undefined, threshold: setValue(THRESHOLD, index) });
  return atPlace;
}

/** The place that leaves most. */
function bestOf(at: (index: number) => StrobeWindow): number {
  const most = (places: readonly number[]): number =>
    places
      .map((place) => ({ place, left: at(place).margin.left }))
      .reduce((best, each) => (each.left > best.left ? each : best)).place;
  const every = (from: number, to: number, by: number): readonly number[] =>
    Array.from({ length: Math.floor((to - from) / by) + 1 }, (_, k) => from + k * by);
  const near = most(every(0, THRESHOLD.places - 1, COARSE));
  return most(every(Math.max(0, near - COARSE), Math.min(THRESHOLD.places - 1, near + COARSE), 1));
}

export const slice: Step = {
  id: 'slice',
  ask: THRESHOLD,
  design: large,
  weigh(moved) {
    if (moved.kind !== 'set') throw new TypeError('The threshold is set by its slider.');
    return { value: judged()(moved.index).margin.left };
  },
  compute() {
    const at = judged();
    const index = bestOf(at);
    const [best, before] = [at(index), at(setIndex(large, THRESHOLD))];
    return {
      traces: bothBits(best),
      ...AT_LATCH,
      span: [0, 800e-9],
      place: placeOf(best),
      truth: { kind: 'set', need: NEAR * best.margin.left, most: best.margin.left, index },
      answers: [
        tellPair('best', 'at', volts(best.inForce.threshold), seconds(best.inForce.time)),
        tell('left', volts(best.margin.left)),
        tell('before', volts(before.margin.left)),
      ],
    };
  },
};
