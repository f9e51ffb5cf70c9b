import type { Design } from '../design/design.ts';
import { makeMatHistory, type MatHistory } from './mat-history.ts';
import { matStep, stepsOf, type MatProgramme, type MatStep } from './mat-programme.ts';
import { randomStream } from '../numerics/random.ts';
import { fitReads, makeReadFeatures, FEATURES } from './read-estimate.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { makeReader, type Reader } from './mat-reader.ts';

export interface MatTestOptions {
  readonly simulate: (design: Design, options: SimulateOptions) => Simulation;
  /** Full runs at most, beside those that the estimate is fitted to (default 256). */
  readonly runs?: number;
  /** Full runs that the estimate is fitted to, per bit (default 48, at least three times what it has unknowns). */
  readonly samples?: number;
  /** Called now and then with the share that is done, 0..1. */
  readonly progress?: (done: number) => void;
  readonly cancelled?: () => boolean;
}

/** One read of the programme. */
export interface MatRead {
  /** Number of the cycle in the programme, from 0. */
  readonly step: number;
  readonly pass: number;
  readonly row: number;
  readonly column: number;
  readonly expects: 0 | 1;
  /** V at the strobe, referred to the sense wire, as the detector hears it. */
  readonly value: number;
  /** 'run': a full run from the cores' states; 'estimate': the linear estimate. */
  readonly by: 'run' | 'estimate';
}

export interface MatTestResult {
  readonly programme: string;
  readonly outcome: 'done' | 'cancelled';
  readonly cycles: number;
  /** Reads that were judged. */
  readonly reads: number;
  /** Reads that would give the wrong bit, in order of time. */
  readonly wrong: readonly MatRead[];
  /** Reads that are right, but nearer to the threshold than its uncertainty. */
  readonly doubtful: number;
  readonly leastOne: MatRead | undefined;
  readonly greatestZero: MatRead | undefined;
  /** Full runs made in all. */
  readonly runs: number;
  /** How far the estimate missed the reads that were run in full because of it, V (greatest), and how many there were. */
  readonly estimate: { readonly miss: number; readonly checked: number };
  /** V: reads within this of the threshold, or unlike any of those fitted, were run in full, unless `runs` did not suffice (then `unchecked` > 0). */
  readonly guard: number;
  readonly unchecked: number;
}

interface Judged {
  readonly step: MatStep;
  readonly n: number;
  readonly features: Float64Array;
  /** A core that is not like the others: always run in full, and no guide for them. */
  readonly special: boolean;
  /** V, with the sign of the selected core's polarity. */
  value: number;
  bit: 0 | 1;
  by: 'run' | 'estimate';
}

/** Full runs a bit to fit the estimate to, and at most of those near the threshold; extremes of each bit run in full. */
const SAMPLES = 48;
const MOST_RUNS = 256;
const EXTREMES = 4;
/** A read within so many greatest misses of the threshold is run in full. */
const GUARD = 3;

/**
 * Runs a programme over the whole mat and says which reads would be wrong. The cores' states go from cycle to cycle
 * without the network (mat-history.ts). Some reads, spread over the programme, are run in full from those states; a
 * linear estimate fitted to them judges the rest, and every read that the estimate puts near the threshold is run in
 * full as well. Each read starts from a quiet wire: what the cycle before leaves on it is `recoveryReport`'s matter.
 */
export function testMat(design: Design, programme: MatProgramme, options: MatTestOptions): MatTestResult {
  const test = beginTest(design, programme, options);
  if (!firstPass(test)) return resultOf(test, 'cancelled');

  // What the reads that were not run come to, and which of them must be run in full after all.
  const estimates = ([0, 1] as const).map((bit) =>
    fitReads(test.reads.filter((read) => read.step.expects === bit && read.by === 'run' && !read.special)),
  );
  const guard = design.detector.uncertainty + GUARD * Math.max(...estimates.map(({ miss }) => miss));
  const suspects = suspectReads(test, estimates, guard);
  const chosen = new Set(suspects.slice(0, options.runs ?? MOST_RUNS));
  for (const bit of [0, 1] as const) for (const read of extremes(test, bit)) chosen.add(read);
  const unchecked = suspects.filter((read) => !chosen.has(read)).length;

  const checks = { miss: 0, checked: 0 };
  const done = secondPass(test, estimates, chosen, checks);
  return resultOf(test, done ? 'done' : 'cancelled', { guard, unchecked, ...checks });
}

/** A programme on its way over a mat. */
interface Test {
  readonly design: Design;
  readonly programme: MatProgramme;
  readonly options: MatTestOptions;
  /** Cycles of the programme. */
  readonly total: number;
  readonly reader: Reader;
  /** Reads that are judged, in order of time. */
  readonly reads: Judged[];
  /** Full runs so far. */
  runs: number;
}

type Estimates = readonly ReturnType<typeof fitReads>[];

const beginTest = (design: Design, programme: MatProgramme, options: MatTestOptions): Test => ({
  design,
  programme,
  options,
  total: stepsOf(programme, design.mat),
  reader: makeReader(design, options),
  reads: [],
  runs: 0,
});

/** V as the detector hears it. */
const heardBy = ({ amplifier }: Design, value: number): number =>
  amplifier.polarity === 'either' ? Math.abs(value) : value;

function runFully(test: Test, read: Judged, history: MatHistory): void {
  Object.assign(read, test.reader(read.step, history), { by: 'run' });
  test.runs++;
}

/** What each read depends on, and full runs of some; false when cancelled. */
function firstPass(test: Test): boolean {
  const { design, programme, options, reads } = test;
  const isSample = sampler(design, programme, options.samples ?? SAMPLES);
  const odd = new Set(design.exceptions.map((e) => e.row * design.mat.columns + e.column));
  const featuresOf = makeReadFeatures(design);
  return walk(test, 0, (step, n, history) => {
    const { row, column } = step.cycle;
    const features = featuresOf(history.flux, row, column);
    const special = odd.has(row * design.mat.columns + column);
    const read: Judged = { step, n, features, special, value: NaN, bit: 0, by: 'estimate' };
    reads.push(read);
    if (isSample() || special) runFully(test, read, history);
  });
}

/** Judges the reads that were not run by the estimate; those near the threshold, wrong or unlike any fitted, nearest first. */
function suspectReads({ design, reads }: Test, estimates: Estimates, guard: number): Judged[] {
  const { threshold } = design.detector;
  const suspects: { read: Judged; distance: number }[] = [];
  for (const read of reads) {
    if (read.by === 'run') continue;
    const estimate = estimates[read.step.expects!]!;
    read.value = estimate.of(read.features);
    read.bit = heardBy(design, read.value) > threshold ? 1 : 0;
    const known = estimate.knows(read.features);
    const distance = known ? Math.abs(heardBy(design, read.value) - threshold) : 0;
    if (distance <= guard || read.bit !== read.step.expects) suspects.push({ read, distance });
  }
  return suspects.sort((a, b) => a.distance - b.distance || a.read.n - b.read.n).map(({ read }) => read);
}

/** Runs the chosen in full and counts by how much the estimate missed them; false when cancelled. */
function secondPass(
  test: Test,
  estimates: Estimates,
  chosen: ReadonlySet<Judged>,
  checks: { miss: number; checked: number },
): boolean {
  let k = 0;
  return walk(test, 0.5, (_, __, history) => {
    const read = test.reads[k++]!;
    if (!chosen.has(read) || read.by === 'run') return;
    const estimated = read.value;
    const known = estimates[read.step.expects!]!.knows(read.features);
    runFully(test, read, history);
    if (!known) return;
    checks.checked++;
    checks.miss = Math.max(checks.miss, Math.abs(read.value - estimated));
  });
}

/** The estimates that are the least ONE or the greatest ZERO, a few of each, so that the extremes stand on full runs. */
function extremes({ design, reads }: Test, bit: 0 | 1): Judged[] {
  const sign = bit === 1 ? 1 : -1;
  return reads
    .filter((read) => read.step.expects === bit && !Number.isNaN(read.value))
    .sort((a, b) => sign * (heardBy(design, a.value) - heardBy(design, b.value)))
    .slice(0, EXTREMES);
}

/** Every step of the programme from the start, `visit` before each that is judged; false when cancelled. */
function walk(
  { design, programme, options, total, reader }: Test,
  from: number,
  visit: (step: MatStep, n: number, history: MatHistory) => void,
): boolean {
  const history = makeMatHistory(design, { bits: storedBits(design), currents: reader.currents });
  for (let n = 0; n < total; n++) {
    if (options.cancelled?.()) return false;
    if (n % 64 === 0) options.progress?.(from + (0.5 * n) / total);
    const step = matStep(programme, design.mat, n);
    if (step.expects !== undefined) visit(step, n, history);
    history.apply(step.cycle);
  }
  options.progress?.(from + 0.5);
  return true;
}

function resultOf(
  test: Test,
  outcome: MatTestResult['outcome'],
  { guard, unchecked, miss, checked } = { guard: NaN, unchecked: 0, miss: 0, checked: 0 },
): MatTestResult {
  const { design, programme, total, reads, runs } = test;
  const { threshold, uncertainty } = design.detector;
  const judged = reads.filter((read) => Number.isFinite(read.value));
  const told = (read: Judged): MatRead => ({
    step: read.n,
    pass: read.step.pass,
    row: read.step.cycle.row,
    column: read.step.cycle.column,
    expects: read.step.expects!,
    value: heardBy(design, read.value),
    by: read.by,
  });
  const doubtful = (read: Judged): boolean =>
    read.bit === read.step.expects && Math.abs(heardBy(design, read.value) - threshold) < uncertainty;
  const [least, greatest] = [extremes(test, 1)[0], extremes(test, 0)[0]];
  return {
    programme: programme.name,
    outcome,
    cycles: total,
    reads: judged.length,
    wrong: judged.filter((read) => read.bit !== read.step.expects).map(told),
    doubtful: judged.filter(doubtful).length,
    leastOne: least && told(least),
    greatestZero: greatest && told(greatest),
    runs,
    estimate: { miss, checked },
    guard,
    unchecked,
  };
}

/** Says of one judged read after the other whether it is run in full: scattered evenly, always in the same way. */
function sampler(design: Design, programme: MatProgramme, wanted: number): () => boolean {
  const passes = programme.passes.filter((pass) => pass.expects !== undefined).length;
  const share = (2 * Math.max(wanted, 3 * FEATURES)) / (passes * design.mat.rows * design.mat.columns);
  const random = randomStream(1, 0);
  return () => random() < share;
}
