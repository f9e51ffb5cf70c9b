import { quickRead } from '../quick-read.ts';
import { restState } from '../state.ts';
import { coreDraws } from '../unknowns/core-draws.ts';
import { disturbedPeak } from '../unknowns/tested-core.ts';
import type { CoreParameters } from '../../design/core.ts';
import { hasDisturb } from './more-readings.ts';
import { mA } from './refuse.ts';
import type { CoreHandbook, HandbookCore } from './values.ts';

/** Cores that are drawn, a dozen: each takes ten milliseconds. */
const DRAWS = 12;
const SEED = 14;
/** Of full drive: a drive that a memory's tolerance may well reach. */
const BESIDE = 1.1;

const tenths = (volts: number): string => (1e3 * volts).toFixed(1);

/**
 * How wide the answer is without the readings that a handbook seldom gives: one sentence for a peak at a second drive and one
 * for a disturbed reading, where they are missing, from cores that all answer what was given.
 */
export function widthNotes(h: CoreHandbook, core: HandbookCore): string[] {
  const second = h.dynamicThreshold === undefined && h.secondPeak === undefined;
  const disturb = h.coerciveDrive === undefined && !hasDisturb(h);
  if (!second && !disturb) return [];
  const { cores } = coreDraws({ ...core, name: '', source: '' }, DRAWS, SEED);
  if (cores.length < DRAWS / 2) return [];
  const between = (of: (p: CoreParameters) => number): string => {
    const values = cores.map(of);
    return `${tenths(Math.min(...values))} to ${tenths(Math.max(...values))} mV`;
  };
  const { rise, disturbs } = core.test;
  const drive = BESIDE * h.fullDrive;
  const notes: string[] = [];
  if (second)
    notes.push(
      `No peak at a second drive was given (secondDrive, secondPeak): a dozen cores that answer all of this give ` +
        `${between((p) => quickRead(p, restState(p, 0), drive, rise).peak)} at ${mA(drive)}.`,
    );
  if (disturb)
    notes.push(
      `No disturbed reading was given (disturbedPeak, or disturbedOne): after ${disturbs.toLocaleString('en')} half-select ` +
        `pulses the ZEROs of a dozen such cores give ${between((p) => disturbedPeak(p, core.test))}.`,
    );
  return notes;
}
