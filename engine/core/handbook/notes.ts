import { KNEES_CLEAR } from './start.ts';
import { mA } from './refuse.ts';
import { DISTURB_RATIOS, type CoreHandbook } from './values.ts';
import type { CoreParameters } from '../../design/design.ts';

/** One sentence for each value that had to be assumed; never empty, because no handbook gives them all. */
export function notesFor(h: CoreHandbook, p: CoreParameters): string[] {
  const notes: string[] = [];
  const practice = 'common practice, no source';
  if (h.disturbRatio === undefined) {
    notes.push(
      `disturbRatio was not given: ${DISTURB_RATIOS.coincidentCurrent} (coincident current) is used.`,
    );
  }
  if (h.coerciveDrive === undefined) {
    notes.push(
      `coerciveDrive was not given: ${mA(p.coerciveDrive)} keeps the disturb current ${KNEES_CLEAR} knee widths ` +
        `below it (${practice}).`,
    );
  }
  if (h.dynamicThreshold === undefined) {
    notes.push(
      `dynamicThreshold was not given: it is set to coerciveDrive, ${mA(p.dynamicThreshold)} (${practice}).`,
    );
  }
  if (h.halfSelectOne === undefined) {
    const known = h.disturbedZero === undefined ? 'no edge output' : 'only disturbedZero';
    notes.push(
      `halfSelectOne and halfSelectZero were not given (${known}): the elastic part is assumed (${practice}).`,
    );
  }
  if (h.driveTemperatureCoefficient === undefined || h.fluxTemperatureCoefficient === undefined) {
    notes.push(
      'A temperature coefficient was not given: that quantity does not change with temperature here.',
    );
  }
  notes.push(
    `Knee widths (${mA(p.staticKneeWidth)} static, ${mA(p.dynamicKneeWidth)} dynamic) and elastic bend ` +
      `(${mA(p.elasticBend)}) follow from fullDrive (${practice}), and the decaying part is off: ` +
      'handbook values do not show them.',
  );
  return notes;
}
