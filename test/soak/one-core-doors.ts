import { checkDesign } from '../../engine/check/check-design.ts';
import { usualRanges } from '../../engine/design/core-ranges.ts';
import type { CoreChoice } from '../../engine/design/core.ts';
import { fitCore } from '../../engine/fitting/jig/fit-core.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import { FULL_DRIVE, readTrace, readTrue, RISE, type MixedCore, type Trace } from '../mixed-core.ts';

export const OUTSIDE = 508e-6;
/** Standard deviation of a reading of a handbook, whose tolerance is two of them. */
const READING = 0.025;
/** V: standard deviation of a sample of a capture, and the least that a reading is told as. */
const NOISE = 0.3e-3;
const LEAST_READ = 0.1e-3;

const settings = {
  fullDrive: FULL_DRIVE,
  disturbRatio: 0.5,
  outsideDiameter: OUTSIDE,
  insideDiameter: 0.6 * OUTSIDE,
  height: 0.25 * OUTSIDE,
};

/** What is known of a core, by each way in. */
export const DOORS: Readonly<Record<string, (truth: MixedCore, seed: number) => CoreChoice>> = {
  preset: (truth) => {
    const [parameters] = truth.parts;
    const test = { fullDrive: FULL_DRIVE, rise: RISE, tolerance: 0.1 };
    const whole = { ...test, disturbRatio: 0.5, disturbs: 1024, disturbWidth: 400e-9 };
    const range = usualRanges(parameters, whole, 'preset', 'unknown');
    return { name: '', source: '', parameters, range, test: whole };
  },
  handbook: (truth, seed) => chosen(readings(truth, seed, 43)),
  'handbook, second drive': (truth, seed) => chosen(readings(truth, seed, 44, ['second'])),
  'handbook, second drive, disturb': (truth, seed) =>
    chosen(readings(truth, seed, 46, ['second', 'disturb'])),
  jig: (truth, seed) => {
    const normal = normalDeviates(randomStream(seed, 45));
    const seen = ({ time, value }: Trace): Trace => ({
      time,
      value: value.map((v) => v + NOISE * normal()),
    });
    const edge = { start: 0, rise: RISE };
    const { handbook } = fitCore(
      {
        one: { trace: seen(readTrace(truth, 1)), edge },
        disturbedZero: { trace: seen(readTrace(truth, 0, { disturbed: true })), edge },
      },
      settings,
    );
    return chosen(handbook);
  },
};

/** Readings of a handbook: voltages off together, as the scale of one instrument is, and times too. */
function readings(
  truth: MixedCore,
  seed: number,
  stream: number,
  more: readonly ('second' | 'disturb')[] = [],
): object {
  const normal = normalDeviates(randomStream(seed, stream));
  const { peak, at, tenth } = readTrue(readTrace(truth, 1));
  const volts = 1 + READING * normal();
  const times = 1 + READING * normal();
  const secondDrive = 1.2 * FULL_DRIVE;
  const second = (): number => readTrue(readTrace(truth, 1, { drive: secondDrive })).peak * volts;
  const disturbed = (): number => readTrue(readTrace(truth, 0, { halfWrites: 2 * tenth })).peak * volts;
  return {
    ...settings,
    rise: RISE,
    peakOne: peak * volts,
    peakTime: at * times,
    switchTime: tenth * times,
    ...(more.includes('second') ? { secondDrive, secondPeak: second() } : {}),
    ...(more.includes('disturb')
      ? { disturbedPeak: Math.max(LEAST_READ, disturbed() + NOISE * normal()) }
      : {}),
  };
}

const UNITS: Readonly<Record<string, string>> = {
  fullDrive: 'A',
  secondDrive: 'A',
  rise: 's',
  peakOne: 'V',
  secondPeak: 'V',
  disturbedZero: 'V',
  disturbedPeak: 'V',
  peakTime: 's',
  switchTime: 's',
  outsideDiameter: 'm',
  insideDiameter: 'm',
  height: 'm',
};
/** A core as a design file has it that gives these readings. */
function chosen(handbook: object): CoreChoice {
  return checkDesign({ core: { handbook: asText(handbook) } }).core;
}
const asText = (handbook: object): object =>
  Object.fromEntries(
    Object.entries(handbook).map(([name, value]) => [
      name,
      UNITS[name] === undefined ? value : `${value as number} ${UNITS[name]}`,
    ]),
  );
