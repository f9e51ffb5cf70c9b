import { checkDesign } from '../../../engine/check/check-design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import { marginAt } from '../../../engine/strobe/window-at.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import type { RawDesign } from '../../model/pointer.ts';
import type { Answer, Curve, StepResult } from '../step.ts';
import { seconds, tell, tellPair, VOLTAGE } from './bench.ts';

/** A mat judged over its patterns and disturb states. */
export interface Judged {
  /** Least ONE and greatest ZERO, with the strobe at its best instant. */
  readonly window: StrobeWindow;
  /** V left at each instant. */
  readonly left: Curve;
  /** The same at an instant between two of those, s. */
  readonly leftAt: (time: number) => number;
}

export function judge(raw: RawDesign): Judged {
  const design = checkDesign(raw);
  const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
  if (!('envelope' in ensemble)) throw new Error('The strobe of the learning board could not be judged.');
  const { threshold } = design.detector;
  const window = windowOf(ensemble, { time: undefined, threshold });
  const { envelope, uncertainties } = ensemble;
  const leftAt = (time: number): number => marginAt(envelope, { time, threshold }, uncertainties).left;
  return { window, left: { time: envelope.time, values: envelope.time.map(leftAt) }, leftAt };
}

/** V: bells and threshold are seen well below it; the spikes of large mats are cut off. */
const TOP = 80e-3;
/** What a judged mat is drawn with: the latch hears no sign. */
export const AT_LATCH = { quantity: VOLTAGE, top: TOP, rectified: true } as const;

/** Where the latch looks, and the window around it, as a chart shows them. */
export const placeOf = ({ inForce, intervals }: StrobeWindow): NonNullable<StepResult['place']> => ({
  strobe: inForce.time,
  threshold: inForce.threshold,
  strobeZones: intervals.map(({ start, end }) => ({ from: start, to: end })),
});

/** The strobe window as a line of an answer. */
export const tellWindow = (name: string, { strobe }: StrobeWindow): Answer =>
  strobe ? tellPair(name, 'to', seconds(strobe.start), seconds(strobe.end)) : tell(name);
