import { hasDisturb } from './more-readings.ts';
import { KNEES_CLEAR } from './start.ts';
import { mA } from './refuse.ts';
import { DISTURB_RATIOS, type CoreHandbook } from './values.ts';
import { MATERIALS } from '../../design/core-ranges.ts';
import type { CoreParameters } from '../../design/core.ts';

/** One sentence for each value that had to be assumed; never empty, because no handbook gives them all. */
export function notesFor(h: CoreHandbook, p: CoreParameters): string[] {
  const notes: string[] = [];
  const practice = 'common practice, no source';
  if (h.disturbRatio === undefined) {
    notes.push(
      `disturbRatio was not given: ${DISTURB_RATIOS.coincidentCurrent} (coincident current) is used.`,
    );
  }
  if (h.coerciveDrive === undefined && !hasDisturb(h)) {
    notes.push(
      `coerciveDrive was not given: ${mA(p.coerciveDrive)} keeps the disturb current ${KNEES_CLEAR} knee widths ` +
        `below it (${practice}), where such cores have ${mA(0.52 * h.fullDrive)} to ${mA(0.86 * h.fullDrive)}.`,
    );
  }
  if (h.dynamicThreshold === undefined && h.secondPeak === undefined) {
    notes.push(
      `dynamicThreshold was not given, nor a peak at a second drive: ${mA(p.dynamicThreshold)} is assumed, where such ` +
        `cores have ${mA(0.22 * h.fullDrive)} to ${mA(0.88 * h.fullDrive)}.`,
    );
  }
  if (h.halfSelectOne === undefined) {
    const known = h.disturbedZero === undefined ? 'no edge output' : 'only disturbedZero';
    notes.push(
      `halfSelectOne and halfSelectZero were not given (${known}): the elastic part is assumed (${practice}).`,
    );
  }
  if (h.driveTemperatureCoefficient === undefined || h.fluxTemperatureCoefficient === undefined) {
    const percent = (perKelvin: number): string => `${Number((100 * perKelvin).toPrecision(2))} %/K`;
    const [low, high] = MATERIALS.unknown.drive;
    notes.push(
      `How the core changes with temperature was not given and is unknown: ${percent(p.driveTemperatureCoefficient)} on ` +
        `its thresholds and ${percent(p.fluxTemperatureCoefficient)} on its flux are assumed, where ferrites of one ` +
        `kind or another have ${percent(low)} to ${percent(high)} on thresholds (from memory).`,
    );
  }
  notes.push(
    `Knee widths (${mA(p.staticKneeWidth)} static, ${mA(p.dynamicKneeWidth)} dynamic) and elastic bend ` +
      `(${mA(p.elasticBend)}) follow from fullDrive (${practice}), the core switches as one, and the decaying part is off: ` +
      'handbook values do not show them.',
  );
  return notes;
}
