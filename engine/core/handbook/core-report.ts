import { pulseDrive } from '../drive.ts';
import { coreField, coreArea, fluxDensity, type CoreField } from '../geometry.ts';
import { dynamicLoop, staticLoop, type CoreLoop } from '../loops.ts';
import { runCore, type CoreTrace } from '../single.ts';
import { restState } from '../state.ts';
import { readFlat } from './answers.ts';
import { coreFromHandbook } from './invert.ts';
import { widthNotes } from './open-width.ts';
import type { CoreAnswers, CoreHandbook, HandbookCore } from './values.ts';

/** One handbook quantity: what was asked for and what the model core answers. */
export interface CoreComparison {
  readonly quantity: keyof CoreAnswers;
  readonly meaning: string;
  readonly unit: 'V' | 's';
  /** Undefined when the handbook does not give it; NaN achieved when the rise is 0 and there is no edge to read. */
  readonly wanted: number | undefined;
  readonly achieved: number;
  /** achieved/wanted - 1. */
  readonly deviation: number | undefined;
}

/** Everything that the `core` command and the page's core view show. */
export interface CoreReport extends HandbookCore {
  readonly handbook: CoreHandbook;
  readonly comparisons: readonly CoreComparison[];
  readonly geometry: {
    /** m². */
    readonly area: number;
    /** T at phi_r. */
    readonly remanentDensity: number;
    /** Field of the full drive. */
    readonly fullField: CoreField;
  };
  /** A full read of an undisturbed ONE and of an undisturbed ZERO. */
  readonly traces: { readonly one: CoreTrace; readonly zero: CoreTrace };
  readonly loops: { readonly static: CoreLoop; readonly dynamic: CoreLoop };
}

const MEANINGS: readonly (readonly [keyof CoreAnswers, 'V' | 's', string])[] = [
  ['peakOne', 'V', 'peak of an undisturbed ONE (uV1)'],
  ['peakTime', 's', 'start of the rise to the peak (t_p)'],
  ['switchTime', 's', 'start of the rise to a tenth of the peak on the fall (t_s)'],
  ['halfSelectOne', 'V', 'half-selected ONE at the end of the rise'],
  ['halfSelectZero', 'V', 'half-selected ZERO at the end of the rise'],
  ['disturbedOne', 'V', 'peak of a ONE after the disturb train (dV1)'],
  ['undisturbedZero', 'V', 'undisturbed ZERO at the end of the rise (uVz)'],
  ['disturbedZero', 'V', 'ZERO after the disturb train, at the end of the rise (dVz)'],
];

/** Wanted beside achieved, in the order of a handbook. */
export function compareAnswers(h: CoreHandbook, achieved: CoreAnswers): CoreComparison[] {
  return MEANINGS.map(([quantity, unit, meaning]) => {
    const wanted = (h as Partial<CoreAnswers>)[quantity];
    const got = achieved[quantity];
    return {
      quantity,
      meaning,
      unit,
      wanted,
      achieved: got,
      deviation: wanted === undefined ? undefined : got / wanted - 1,
    };
  });
}

/**
 * From handbook or bench values of one core (as `checkHandbook` reads them, SI) to the model's parameters, how well the
 * model core answers each value, its geometry, traces (V of one turn over s) and loops (Wb over A). Throws HandbookError
 * for values that no core of this model can have.
 */
export function coreReport(h: CoreHandbook): CoreReport {
  const core = coreFromHandbook(h);
  const p = core.parameters;
  const top = readFlat(h);
  const read = { amplitude: -h.fullDrive, start: 0, width: top + h.rise, rise: h.rise, fall: h.rise };
  const drive = pulseDrive([read], 1.2 * (top + 2 * h.rise));
  const step = (top + 2 * h.rise) / 1000;
  return {
    ...core,
    notes: [...core.notes, ...widthNotes(h, core)],
    handbook: h,
    comparisons: compareAnswers(h, core.achieved),
    geometry: {
      area: coreArea(p),
      remanentDensity: fluxDensity(p, p.remanentFlux),
      fullField: coreField(p, h.fullDrive),
    },
    traces: {
      one: runCore(p, drive, { step, initial: restState(p, 1) }),
      zero: runCore(p, drive, { step, initial: restState(p, 0) }),
    },
    loops: {
      static: staticLoop(p, h.fullDrive),
      dynamic: dynamicLoop(p, h.fullDrive, 20 * h.switchTime),
    },
  };
}
