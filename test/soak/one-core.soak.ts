/**
 * One core, one decision: a core that no core of the model is, known by its preset, by readings and by captures, and the
 * margin that each of them says of a design, beside the margin that the core itself gives.
 */
import { expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { usualRanges } from '../../engine/design/core-ranges.ts';
import type { CoreChoice, CoreParameters } from '../../engine/design/core.ts';
import type { Design } from '../../engine/design/design.ts';
import { fitCore } from '../../engine/fitting/jig/fit-core.ts';
import { normalDeviates, randomStream } from '../../engine/numerics/random.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { makeCaseRuns, SEARCHED, type CaseRuns } from '../../engine/strobe/case-runs.ts';
import { quickCases } from '../../engine/strobe/cases.ts';
import { coreMargins, runCoreSet } from '../../engine/strobe/core-set.ts';
import type { OpenCore } from '../../engine/strobe/open-core.ts';
import {
  buildEnvelope,
  followedUntil,
  strobeSearch,
  strobeUncertainties,
  type CaseTrace,
} from '../../engine/strobe/envelope.ts';
import { openCore } from '../../engine/strobe/strobe-window.ts';
import { windowAt } from '../../engine/strobe/window-at.ts';
import {
  FULL_DRIVE,
  mixedCore,
  readTrace,
  readTrue,
  RISE,
  type MixedCore,
  type Trace,
} from '../mixed-core.ts';
import { patience, quantile, tell } from './figures.ts';

/** Which cores, as SOAK_CORES=1-100. */
const [FIRST, LAST] = (process.env.SOAK_CORES ?? '1-6').split('-').map(Number) as [number, number];
const SIZES = (process.env.SOAK_SIZES ?? '8,64').split(',').map(Number);
const HEATS = (process.env.SOAK_HEATS ?? '25,40').split(',').map(Number);
/** By which ways in, as SOAK_DOORS=handbook,jig; left out: all. */
const ASKED = process.env.SOAK_DOORS?.split(',');
const PATIENCE = 40_000;
const OUTSIDE = 508e-6;
/** Standard deviation of a reading of a handbook, whose tolerance is two of them. */
const READING = 0.025;

const settings = {
  fullDrive: FULL_DRIVE,
  disturbRatio: 0.5,
  outsideDiameter: OUTSIDE,
  insideDiameter: 0.6 * OUTSIDE,
  height: 0.25 * OUTSIDE,
};

/** What is known of a core, by each way in. */
const DOORS: Readonly<Record<string, (truth: MixedCore, seed: number) => CoreChoice>> = {
  preset: (truth) => {
    const [parameters] = truth.parts;
    const test = { fullDrive: FULL_DRIVE, rise: RISE, tolerance: 0.1 };
    const whole = { ...test, disturbRatio: 0.5, disturbs: 1024, disturbWidth: 400e-9 };
    const range = usualRanges(parameters, whole, 'preset', 'unknown');
    return { name: '', source: '', parameters, range, test: whole };
  },
  handbook: (truth, seed) => {
    const normal = normalDeviates(randomStream(seed, 43));
    const off = (): number => 1 + READING * normal();
    const { peak, at, tenth } = readTrue(readTrace(truth, 1));
    const times = off();
    return chosen({
      ...settings,
      rise: RISE,
      peakOne: peak * off(),
      peakTime: at * times,
      switchTime: tenth * times,
    });
  },
  'handbook with more': (truth, seed) => {
    const normal = normalDeviates(randomStream(seed, 44));
    const secondDrive = 1.2 * FULL_DRIVE;
    const { peak, at, tenth } = readTrue(readTrace(truth, 1));
    const volts = 1 + READING * normal();
    const times = 1 + READING * normal();
    return chosen({
      ...settings,
      rise: RISE,
      peakOne: peak * volts,
      peakTime: at * times,
      switchTime: tenth * times,
      secondDrive,
      secondPeak: readTrue(readTrace(truth, 1, { drive: secondDrive })).peak * volts,
    });
  },
  jig: (truth, seed) => {
    const normal = normalDeviates(randomStream(seed, 45));
    const seen = ({ time, value }: Trace): Trace => ({
      time,
      value: value.map((v) => v + 0.3e-3 * normal()),
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
const UNITS: Readonly<Record<string, string>> = {
  fullDrive: 'A',
  secondDrive: 'A',
  rise: 's',
  peakOne: 'V',
  secondPeak: 'V',
  disturbedZero: 'V',
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

function designFor(size: number, celsius: number, tenth: number): Design {
  const width = `${Math.ceil((tenth + 150e-9) * 1e9)} ns`;
  return checkDesign({
    mat: { rows: size, columns: size },
    winding: { kind: 'separate-rectangular' },
    cycle: { readWidth: width, gap: '200 ns', writeWidth: width, period: '6 us' },
    temperature: `${celsius} °C`,
    // The large mat in steps of which hundreds of thousands can be afforded; all doors and the truth are computed alike.
    numerics: size > 16 ? { sections: 4, step: '4 ns', output: '4 ns' } : { output: '2 ns' },
  });
}

/** Margin of a design at its strobe and threshold over quick cases, and the interval of it over what is not known of the core. */
interface Told {
  readonly own: number;
  readonly low: number;
  readonly high: number;
}

/** The quick cases of a design, heard at the sense wire. */
function quickRuns(design: Design): CaseRuns {
  const runs = makeCaseRuns(design, simulate, {
    coupling: 0,
    until: followedUntil(design),
    finer: design.mat.rows > 16 ? 1 : SEARCHED,
  });
  for (const spec of quickCases(design)) runs.add(spec);
  return runs;
}

const withCore = (design: Design, core: CoreParameters | CoreChoice): Design => ({
  ...design,
  core: 'parameters' in core ? core : { ...design.core, parameters: core },
});

/** What the core itself gives: each case as the sum of what its parts give. */
function truthIn(design: Design, truth: MixedCore): { time: Float64Array; cases: CaseTrace[] } {
  const [a, b] = truth.parts.map((p) => quickRuns(withCore(design, p))) as [CaseRuns, CaseRuns];
  const cases = a.cases.map(({ name, bit, referred }, i) => ({
    name,
    bit,
    referred: referred.map((v, k) => truth.share * v + (1 - truth.share) * b.cases[i]!.referred[k]!),
  }));
  return { time: a.time!, cases };
}

const marginAt = (design: Design, time: Float64Array, cases: readonly CaseTrace[]) => {
  const at = { time: design.strobe.time, threshold: design.detector.threshold };
  const envelope = buildEnvelope(time, cases, strobeSearch(design));
  const uncertainties = strobeUncertainties(design);
  const { margin } = windowAt(envelope, at, uncertainties);
  const less = uncertainties.threshold;
  return { left: margin.left, one: margin.one - less, zero: margin.zero - less };
};

function told(design: Design, open: OpenCore): Told {
  const runs = quickRuns(design);
  const { time, cases } = runs;
  const wide = strobeUncertainties(design);
  const strobe = { time: design.strobe.time!, threshold: design.detector.threshold, found: false };
  const own = marginAt(design, time!, cases);
  const set = runCoreSet(design, open, runs, strobeSearch(design), wide, cases, strobe.time);
  const { low, high } = coreMargins(set, time!, strobe, wide, own).verdict;
  return { own: own.left, low, high };
}

/** The design with its strobe where a core's least ONE stands farthest over its greatest ZERO, and the threshold between. */
function placed(design: Design): Design {
  const { time, cases } = quickRuns(design);
  const search = strobeSearch(design);
  const { one, zero } = buildEnvelope(time!, cases, search);
  const over = time!.map((t, k) => (t > RISE && t < search.end ? one[k]! - zero[k]! : -Infinity));
  const best = over.indexOf(Math.max(...over));
  return {
    ...design,
    strobe: { ...design.strobe, time: time![best]! + design.detector.delay },
    detector: { ...design.detector, threshold: (one[best]! + zero[best]!) / 2 },
  };
}

/** A core as it is known by one way in, and what that leaves open. */
interface Known {
  readonly door: string;
  readonly core: CoreChoice;
  readonly open: OpenCore;
}

/** How often each way in held what is true. */
class Counts {
  private readonly doors = new Map<
    string,
    { held: number; widths: number[]; missed: string[]; refused: string[] }
  >();

  private of(door: string) {
    const found = this.doors.get(door) ?? { held: 0, widths: [], missed: [], refused: [] };
    this.doors.set(door, found);
    return found;
  }
  get asked(): number {
    return Math.min(...[...this.doors.values()].map(({ held, missed }) => held + missed.length));
  }
  add(door: string, inside: boolean, words: string, width?: number): void {
    const row = this.of(door);
    if (inside) row.held++;
    else row.missed.push(words);
    if (width !== undefined) row.widths.push(width);
  }
  refuse(door: string, words: string): void {
    this.of(door).refused.push(words);
  }
  tell(where: string): void {
    for (const [door, { held, widths, missed, refused }] of this.doors) {
      const wide = widths.length > 0 ? `, median width ${mV(quantile(widths, 0.5))}` : '';
      const said = refused.length > 0 ? `, ${refused.length} refused` : '';
      tell('O1', `${where}, ${door}`, `${held} of ${held + missed.length}${said}${wide}`, '93 of 100');
      if (process.env.SOAK_SHOW)
        for (const words of [...missed, ...refused]) process.stdout.write(`    ${words}\n`);
    }
  }
}

/** One core in one design: the margin that it has, and what each way in tells of it. */
function judge(
  design: Design,
  truth: MixedCore,
  known: readonly Known[],
  counts: Counts,
  seed: number,
): void {
  const real = truthIn(design, truth);
  const margin = marginAt(design, real.time, real.cases).left;
  const intervals = known.map(({ door, core, open }) => {
    const { own, low, high } = told(withCore(design, core), open);
    const inside = low <= margin && margin <= high;
    counts.add(
      door,
      inside,
      `${seed}: ${mV(margin)} not in ${mV(low)}..${mV(high)} (own ${mV(own)})`,
      high - low,
    );
    return { low, high };
  });
  const apart = Math.max(...intervals.map(({ low }) => low)) > Math.min(...intervals.map(({ high }) => high));
  counts.add('all overlap', !apart, String(seed));
}

it('every way in holds the margin of the core itself, and all of them overlap', () => {
  const patient = patience(PATIENCE);
  const places = SIZES.flatMap((size) => HEATS.map((celsius) => ({ size, celsius, counts: new Counts() })));
  for (let seed = FIRST; seed <= LAST && patient(); seed++) {
    const truth = mixedCore(seed, { outsideDiameter: OUTSIDE });
    const { tenth } = readTrue(readTrace(truth, 1));
    const known = Object.entries(DOORS).flatMap(([door, read]): Known[] => {
      if (ASKED?.includes(door) === false) return [];
      try {
        const core = read(truth, seed);
        return [{ door, core, open: openCore(withCore(designFor(8, 25, tenth), core)) }];
      } catch (error) {
        for (const { counts } of places)
          counts.refuse(door, `${seed}: ${(error as Error).message.slice(0, 90)}`);
        return [];
      }
    });
    for (const { size, celsius, counts } of places) {
      const design = placed(withCore(designFor(size, celsius, tenth), truth.parts[0]));
      judge(design, truth, known, counts, seed);
    }
  }
  for (const { size, celsius, counts } of places) {
    // The table keeps one row for words that differ by their numbers alone.
    counts.tell(
      `${size > 16 ? 'large' : 'small'} mat, ${celsius > 30 ? 'warm' : 'at room temperature'} (${size} x ${size}, ${celsius} °C)`,
    );
    expect(counts.asked).toBeGreaterThan(0);
  }
});

const mV = (volts: number): string => `${(volts * 1e3).toFixed(1)} mV`;
