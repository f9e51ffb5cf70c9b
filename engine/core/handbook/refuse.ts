import { DISTURB_RATIOS, HandbookError, type CoreHandbook } from './values.ts';
import { greatestRingSpread } from '../geometry.ts';
import { elasticPerFlux } from '../model.ts';
import type { CoreParameters } from '../../design/core.ts';

const ACCEPTED_SQUARENESS = [0.5, 0.999] as const;
/** Greatest b g/phi_r; at 1 the EMF of a switching core would change sign. */
const ELASTIC_LIMIT = 0.5;

const inUnit = (value: number, scale: number, unit: string): string =>
  `${Number((value * scale).toPrecision(4))} ${unit}`;
export const ns = (s: number): string => inUnit(s, 1e9, 'ns');
export const mV = (v: number): string => inUnit(v, 1e3, 'mV');
export const mA = (a: number): string => inUnit(a, 1e3, 'mA');

const UNIT: Partial<Record<keyof CoreHandbook, (v: number) => string>> = {
  fullDrive: mA,
  peakOne: mV,
  peakTime: ns,
  switchTime: ns,
  halfSelectOne: mV,
  halfSelectZero: mV,
  disturbedZero: mV,
  dynamicThreshold: mA,
  coerciveDrive: mA,
  outsideDiameter: (m) => inUnit(m, 1e3, 'mm'),
  insideDiameter: (m) => inUnit(m, 1e3, 'mm'),
  height: (m) => inUnit(m, 1e3, 'mm'),
};

/** Refuse a set that no bell of the model can have, before anything is fitted; one sentence for each reason. */
export function refuseImpossible(h: CoreHandbook): void {
  for (const [field, show] of Object.entries(UNIT) as [keyof CoreHandbook, (v: number) => string][]) {
    const value = h[field] as number | undefined;
    if (value === undefined) continue;
    if (!(value > 0 && Number.isFinite(value))) {
      throw new HandbookError(
        field,
        `${field} must be greater than 0, but is ${show(value)}: give a magnitude.`,
      );
    }
  }
  if (!(h.rise >= 0 && Number.isFinite(h.rise))) {
    throw new HandbookError(
      'rise',
      `rise must be 0 ns or more, but is ${ns(h.rise)}: give the 0 to 100 % time.`,
    );
  }
  if (!(h.switchTime > h.peakTime)) {
    throw new HandbookError(
      'switchTime',
      `switchTime must be later than peakTime (${ns(h.peakTime)}), but is ${ns(h.switchTime)}: it runs from the ` +
        'same instant to a tenth of the peak on the fall.',
    );
  }
  if (!(h.peakTime > h.rise)) {
    throw new HandbookError(
      'peakTime',
      `peakTime must be later than the end of the rise (${ns(h.rise)}), but is ${ns(h.peakTime)}: ` +
        'measure with a faster edge.',
    );
  }
  if (!(h.outsideDiameter > h.insideDiameter)) {
    throw new HandbookError(
      'outsideDiameter',
      `outsideDiameter must be greater than insideDiameter (${UNIT.insideDiameter!(h.insideDiameter)}), but is ` +
        `${UNIT.outsideDiameter!(h.outsideDiameter)}: exchange the two.`,
    );
  }
  const widest = greatestRingSpread(h);
  if (h.ringSpread !== undefined && !(h.ringSpread >= 0 && h.ringSpread <= widest)) {
    throw new HandbookError(
      'ringSpread',
      `ringSpread must be from 0 to (OD - ID)/(OD + ID) (${Number(widest.toPrecision(4))}), but is ${h.ringSpread}: ` +
        'the field over a core spreads no further.',
    );
  }
  refuseDrives(h);
  refuseEdgeOutputs(h);
  refuseMoreReadings(h);
}

function refuseDrives(h: CoreHandbook): void {
  for (const field of ['driveTemperatureCoefficient', 'fluxTemperatureCoefficient'] as const) {
    const value = h[field];
    if (value !== undefined && !(Math.abs(value) <= 0.01)) {
      throw new HandbookError(
        field,
        `${field} must be between -1 and +1 %/K, but is ${inUnit(value, 100, '%/K')}: ` +
          'give the change of one kelvin over the value at 25 °C.',
      );
    }
  }
  const ratio = h.disturbRatio ?? DISTURB_RATIOS.coincidentCurrent;
  if (!(ratio >= 0.4 && ratio <= 0.8)) {
    throw new HandbookError(
      'disturbRatio',
      `disturbRatio must be between 0.4 and 0.8, but is ${ratio}: it is the half-select current over the full drive.`,
    );
  }
  for (const field of ['dynamicThreshold', 'coerciveDrive'] as const) {
    const value = h[field];
    if (value !== undefined && value >= 0.95 * h.fullDrive) {
      throw new HandbookError(
        field,
        `${field} must be under 95 % of fullDrive (${mA(0.95 * h.fullDrive)}), but is ${mA(value)}: ` +
          'the core would hardly switch.',
      );
    }
  }
}

function refuseEdgeOutputs(h: CoreHandbook): void {
  const given = [h.halfSelectOne, h.halfSelectZero, h.disturbedZero].some((v) => v !== undefined);
  if (given && h.rise === 0) {
    throw new HandbookError(
      'rise',
      'rise must be greater than 0 ns when half-select outputs or disturbedZero are given, but is 0 ns: ' +
        'the output on an edge means nothing without the edge.',
    );
  }
  if ((h.halfSelectOne === undefined) !== (h.halfSelectZero === undefined)) {
    const missing = h.halfSelectOne === undefined ? 'halfSelectOne' : 'halfSelectZero';
    throw new HandbookError(
      missing,
      `${missing} must be given together with its partner, but is missing: give both or neither.`,
    );
  }
  if (h.halfSelectOne !== undefined && h.halfSelectOne < h.halfSelectZero!) {
    throw new HandbookError(
      'halfSelectOne',
      `halfSelectOne must be at least halfSelectZero (${mV(h.halfSelectZero!)}), but is ${mV(h.halfSelectOne)}: ` +
        'a half-selected ONE answers more than a ZERO.',
    );
  }
}

function refuseMoreReadings(h: CoreHandbook): void {
  if ((h.secondDrive === undefined) !== (h.secondPeak === undefined)) {
    const missing = h.secondDrive === undefined ? 'secondDrive' : 'secondPeak';
    throw new HandbookError(
      missing,
      `${missing} must be given together with its partner, but is missing: give both or neither.`,
    );
  }
  if (h.secondDrive !== undefined && Math.abs(h.secondDrive / h.fullDrive - 1) < 0.03) {
    throw new HandbookError(
      'secondDrive',
      `secondDrive must differ from fullDrive (${mA(h.fullDrive)}) by 3 % or more, but is ${mA(h.secondDrive)}: read at 0.9 or 1.1 of it.`,
    );
  }
  if (h.disturbedOne !== undefined && h.disturbedPeak !== undefined) {
    throw new HandbookError(
      'disturbedOne',
      'disturbedOne must stand alone, but disturbedPeak is given too: leave one of them out.',
    );
  }
  if (h.disturbedOne !== undefined && h.disturbedOne >= h.peakOne) {
    throw new HandbookError(
      'disturbedOne',
      `disturbedOne must be under peakOne (${mV(h.peakOne)}), but is ${mV(h.disturbedOne)}: half-selects take from a ONE.`,
    );
  }
}

/** Refuse fitted parameters outside the limits of the core model. */
export function refuseParameters(h: CoreHandbook, p: CoreParameters): void {
  const [low, high] = ACCEPTED_SQUARENESS;
  if (!(p.squareness >= low && p.squareness <= high)) {
    const why = p.squareness > high ? 'too late' : 'too early';
    throw new HandbookError(
      'peakTime',
      `peakTime must lie where a bell with squareness ${low} to ${high} can peak, but ${ns(h.peakTime)} is ${why} ` +
        `for a switchTime of ${ns(h.switchTime)} and a rise of ${ns(h.rise)}: measure both again from the start ` +
        'of the rise.',
    );
  }
  if (!(p.elasticSaturated > 0 && p.elasticKnee > 0)) {
    throw new HandbookError(
      'halfSelectZero',
      'halfSelectZero must leave a positive inductance far into the stored state, but ' +
        `${mV(h.halfSelectZero ?? 0)} beside ${mV(h.halfSelectOne ?? 0)} for a ONE does not: measure both again.`,
    );
  }
  if (!(-elasticPerFlux(p, h.fullDrive) < ELASTIC_LIMIT)) {
    throw new HandbookError(
      'halfSelectOne',
      `halfSelectOne must exceed halfSelectZero by so little that a core at full drive loses under half its EMF to ` +
        `the elastic part, but is ${mV(h.halfSelectOne ?? 0)} beside ${mV(h.halfSelectZero ?? 0)}: measure both again.`,
    );
  }
}
