import { answerToRead } from '../../core/handbook/answers.ts';
import type { CoreHandbook } from '../../core/handbook/values.ts';
import { atTemperature } from '../../core/model.ts';
import { quickRead } from '../../core/quick-read.ts';
import { restState } from '../../core/state.ts';
import { coreDraws, strayAt } from '../../core/unknowns/core-draws.ts';
import { withPeak } from '../../core/unknowns/drive-stray.ts';
import { disturbedPeak, readCore } from '../../core/unknowns/tested-core.ts';
import type { CoreParameters, CoreTest } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';
import { normalDeviates, randomStream } from '../../numerics/random.ts';
import { afterPulse, emfOnTop, mirrored } from './read-state.ts';

/** One figure to read off one core, and what may be expected of it. */
export interface CoreReading {
  readonly what: string;
  /** A, ampere-turns, of the pulse in which it is read. */
  readonly drive: number;
  readonly unit: 'V' | 's' | 'Wb';
  /** Of the design's core. */
  readonly expected: number;
  /** The least and the greatest of the cores that could be the design's, as far as it is known. */
  readonly low: number;
  readonly high: number;
  /** The field of a handbook file into which it goes. */
  readonly field?: keyof CoreHandbook;
}

/** Figures that are taken together. */
export interface CoreMeasurement {
  readonly key: 'drives' | 'rises' | 'knee' | 'cut' | 'tail' | 'edges' | 'warm';
  readonly readings: readonly CoreReading[];
}

/** What to measure on one core before a mat is threaded, in this order. */
export interface MeasuringPlan {
  /** A, s: full drive and rise of the test. */
  readonly fullDrive: number;
  readonly rise: number;
  /** s: long enough for the whole of a ONE at every drive here. */
  readonly pulse: number;
  /** s: each half pulse of a disturb train. */
  readonly disturbWidth: number;
  /** How many cores set the ranges. */
  readonly cores: number;
  readonly measurements: readonly CoreMeasurement[];
}

/** A figure to read off one core, and how it follows from the core's parameters. */
export type Reading = Omit<CoreReading, 'expected' | 'low' | 'high'> & {
  readonly of: (p: CoreParameters) => number;
};

const CORES = 40;
const SEED = 1;
/** Drives over full drive. */
const DRIVES = [0.8, 0.9, 1, 1.1, 1.2] as const;
const HALVES = [0.4, 0.45, 0.5, 0.55, 0.6, 0.65] as const;
const COUNTS = [1, 32, 1024] as const;
const CUTS = [0.25, 0.5, 0.75] as const;
/** s from the flat top of the second pulse. */
const TAIL_AT = [0.5e-6, 1e-6, 2e-6] as const;
/** °C. */
const COLD_AND_WARM = [10, 50] as const;
/** Over the switching time at full drive. */
const PULSE = 3;

/**
 * The measurements that fix a core, with what the design's core gives in each and how far the cores that it could be
 * differ. Voltages are magnitudes at one turn; times run from the start of the rise; at 25 °C unless said.
 */
export function measuringPlan(design: Design): MeasuringPlan {
  const { parameters, test } = design.core;
  const cores = coreDraws(design.core, CORES, SEED).cores;
  const { switchingTime } = readCore(parameters, test);
  const pulse = PULSE * switchingTime;
  const normal = normalDeviates(randomStream(SEED, CORES));
  const strays = cores.map(() => normal());
  const known = (key: CoreMeasurement['key'], { of, ...reading }: Reading): CoreReading => {
    // Whole reads away from the drives of the test: there the model itself may stray.
    const stray = key === 'drives' ? strayAt(design.core, reading.drive) : 0;
    const values = cores
      .map((p, k) => of(stray > 0 ? withPeak(p, Math.exp(stray * strays[k]!)) : p))
      .filter(Number.isFinite);
    const expected = of(parameters);
    return { ...reading, expected, low: Math.min(expected, ...values), high: Math.max(expected, ...values) };
  };
  const groups = readingGroups(test, switchingTime);
  return {
    fullDrive: test.fullDrive,
    rise: test.rise,
    pulse,
    disturbWidth: test.disturbWidth,
    cores: cores.length,
    measurements: groups.map(([key, readings]) => ({
      key,
      readings: readings.map((each) => known(key, each)),
    })),
  };
}

/** Figures in the order in which they are taken. @param switchingTime s, of a ONE at full drive */
export function readingGroups(
  test: CoreTest,
  switchingTime: number,
): readonly (readonly [key: CoreMeasurement['key'], readings: readonly Reading[]])[] {
  const pulse = PULSE * switchingTime;
  return [
    ['drives', atDrives(test, pulse)],
    ['knee', afterHalves(test)],
    ['rises', atRises(test)],
    ['cut', afterCuts(test, switchingTime)],
    ['tail', inSecondPulse(test, pulse)],
    ['edges', onEdges(test, pulse)],
    ['warm', coldAndWarm(test)],
  ];
}

const percent = (part: number): string => `${Math.round(part * 100)} %`;

/** A ONE that is read, mirrored: a ZERO that is written. */
const readOne = (p: CoreParameters, drive: number, rise: number): ReturnType<typeof quickRead> =>
  quickRead(p, restState(p, 0), drive, rise);

function atDrives({ fullDrive, rise }: CoreTest, pulse: number): Reading[] {
  const peaks = DRIVES.map((part): Reading => {
    const drive = part * fullDrive;
    const field = part === 1 ? 'peakOne' : part === 1.2 ? 'secondPeak' : undefined;
    return {
      what: `peak at ${percent(part)}`,
      drive,
      unit: 'V',
      ...(field && { field }),
      of: (p) => readOne(p, drive, rise).peak,
    };
  });
  const times = [0.9, 1, 1.2].map((part): Reading => ({
    what: `time of the peak at ${percent(part)}`,
    drive: part * fullDrive,
    unit: 's',
    ...(part === 1 && { field: 'peakTime' }),
    of: (p) => readOne(p, part * fullDrive, rise).peakTime,
  }));
  return [
    ...peaks,
    ...times,
    {
      what: 'fallen to a tenth of the peak at 100 %',
      drive: fullDrive,
      unit: 's',
      field: 'switchTime',
      of: (p) => readOne(p, fullDrive, rise).switchingTime,
    },
    {
      what: 'area of a ONE less that of a ZERO at 100 %',
      drive: fullDrive,
      unit: 'Wb',
      of: (p) => {
        const end = afterPulse(p, restState(p, 0), fullDrive, rise, pulse);
        return end.phi + p.remanentFlux + (end.psi - restState(p, 0).psi);
      },
    },
  ];
}

const afterHalves = (test: CoreTest): Reading[] =>
  HALVES.flatMap((part) =>
    COUNTS.map((disturbs): Reading => ({
      what: `${disturbs.toLocaleString('en')} half ${disturbs === 1 ? 'pulse' : 'pulses'} of ${percent(part)}`,
      drive: part * test.fullDrive,
      unit: 'V',
      ...(part === 0.6 && disturbs === 1024 && { field: 'disturbedPeak' }),
      of: (p) => disturbedPeak(p, { ...test, disturbRatio: part, disturbs }),
    })),
  );

const atRises = ({ fullDrive, rise }: CoreTest): Reading[] =>
  [0.9, 2].map((part) => ({
    what: `time of the peak, rise of ${(part * rise * 1e9).toFixed(0)} ns`,
    drive: fullDrive,
    unit: 's',
    of: (p) => readOne(p, fullDrive, part * rise).peakTime,
  }));

const afterCuts = ({ fullDrive, rise }: CoreTest, switchingTime: number): Reading[] =>
  CUTS.map((part) => ({
    what: `peak after a write cut at ${(part * switchingTime * 1e9).toFixed(0)} ns`,
    drive: fullDrive,
    unit: 'V',
    of: (p) => {
      const written = afterPulse(p, restState(p, 0), fullDrive, rise, part * switchingTime);
      return quickRead(p, mirrored(written), fullDrive, rise).peak;
    },
  }));

const inSecondPulse = ({ fullDrive, rise }: CoreTest, pulse: number): Reading[] =>
  [0.8, 1].flatMap((part) =>
    TAIL_AT.map((t): Reading => ({
      what: `${(t * 1e9).toFixed(0)} ns after the rise at ${percent(part)}`,
      drive: part * fullDrive,
      unit: 'V',
      of: (p) => {
        const drive = part * fullDrive;
        return emfOnTop(p, afterPulse(p, restState(p, 0), drive, rise, pulse), drive, t);
      },
    })),
  );

const onEdges = ({ fullDrive, rise }: CoreTest, pulse: number): Reading[] =>
  ([1, 0] as const).map((bit) => ({
    what: `${bit === 1 ? 'a ONE' : 'a ZERO'} at the end of the rise, 50 %`,
    drive: fullDrive / 2,
    unit: 'V',
    field: bit === 1 ? 'halfSelectOne' : 'halfSelectZero',
    of: (p) => answerToRead(p, restState(p, bit), fullDrive / 2, rise, pulse).edge,
  }));

const coldAndWarm = (test: CoreTest): Reading[] =>
  COLD_AND_WARM.flatMap((celsius): Reading[] => {
    const { fullDrive, rise } = test;
    const at = (p: CoreParameters): CoreParameters => atTemperature(p, celsius);
    return [
      {
        what: `peak at ${celsius} °C`,
        drive: fullDrive,
        unit: 'V',
        of: (p) => readOne(at(p), fullDrive, rise).peak,
      },
      {
        what: `time of the peak at ${celsius} °C`,
        drive: fullDrive,
        unit: 's',
        of: (p) => readOne(at(p), fullDrive, rise).peakTime,
      },
      {
        what: `ZERO after ${test.disturbs.toLocaleString('en')} half pulses of ${percent(test.disturbRatio)} at ${celsius} °C`,
        drive: fullDrive,
        unit: 'V',
        of: (p) => disturbedPeak(at(p), test),
      },
    ];
  });
