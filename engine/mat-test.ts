import type { Design } from './design.ts';
import { makeMatHistory, type LineRun, type MatHistory } from './mat-history.ts';
import { matStep, stepsOf, type MatProgramme, type MatStep } from './mat-programme.ts';
import { fitReads, makeReadFeatures, FEATURES, type ReadEstimate } from './read-estimate.ts';
import { repetitionCoupling } from './repetition.ts';
import type { SimulateOptions, Simulation } from './result.ts';
import { storedBits } from './stored-pattern.ts';
import { wirePath } from './winding.ts';

export interface MatTestOptions {
  readonly simulate: (design: Design, options: SimulateOptions) => Simulation;
  /** Full runs at most, beside those that the estimate is fitted to (default 256). */
  readonly runs?: number;
  /** Full runs that the estimate is fitted to, per bit (default 40, at least twice what it has unknowns). */
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
  /** How far the estimate missed full runs that it was not fitted to, V (greatest), and how many there were. */
  readonly estimate: { readonly miss: number; readonly checked: number };
  /** V: reads within this of the threshold were run in full, unless `runs` did not suffice (then `unchecked` > 0). */
  readonly guard: number;
  readonly unchecked: number;
}

interface Judged {
  readonly step: MatStep;
  readonly n: number;
  /** V, with the sign of the selected core's polarity. */
  value: number;
  bit: 0 | 1;
  by: 'run' | 'estimate';
}

/** A read within so many greatest misses of the threshold is run in full. */
const GUARD = 3;

/**
 * Runs a programme over the whole mat and says which reads would be wrong. The cores' states go from cycle to cycle
 * without the network (mat-history.ts). Some reads, spread over the programme, are run in full from those states; a
 * linear estimate fitted to them judges the rest, and every read that the estimate puts near the threshold is run in
 * full as well. Each read starts from a quiet wire: what the cycle before leaves on it is `recoveryReport`'s matter.
 */
export function testMat(design: Design, programme: MatProgramme, options: MatTestOptions): MatTestResult {
  const total = stepsOf(programme, design.mat);
  const judged = programme.passes.filter((pass) => pass.expects !== undefined).length;
  const reader = makeReader(design, options);
  const featuresOf = makeReadFeatures(design);
  const wantedSamples = Math.max(2 * FEATURES, options.samples ?? 40);
  const stride = Math.max(
    1,
    Math.floor((judged * design.mat.rows * design.mat.columns) / (2 * wantedSamples)),
  );
  const features: Float64Array[] = [];
  const reads: Judged[] = [];
  let runs = 0;

  const first = walk(
    (step, n, history) => {
      if (step.expects === undefined) return;
      const k = reads.length;
      features.push(featuresOf(history.flux, step.cycle.row, step.cycle.column));
      // An odd stride and a drifting start, so that rows, columns and bits are met evenly.
      const sampled = (k + Math.floor(k / stride)) % stride === 0;
      if (sampled) runs++;
      const found = sampled ? reader(step, history) : { value: NaN, bit: step.expects };
      reads.push({ step, n, ...found, by: sampled ? 'run' : 'estimate' });
    },
    0,
    0.5,
  );
  if (!first) return finish('cancelled', NaN, 0, 0);

  const estimates = ([0, 1] as const).map((bit): ReadEstimate | undefined => {
    const known = reads.flatMap((r, i) => (r.step.expects === bit && r.by === 'run' ? [i] : []));
    if (known.length === 0) return undefined;
    return fitReads(
      known.map((i) => features[i]!),
      known.map((i) => reads[i]!.value),
    );
  });
  const { threshold, uncertainty } = design.detector;
  const heard = (value: number): number => (design.amplifier.polarity === 'either' ? Math.abs(value) : value);
  reads.forEach((read, i) => {
    if (read.by === 'run') return;
    read.value = estimates[read.step.expects!]?.of(features[i]!) ?? NaN;
    read.bit = heard(read.value) > threshold ? 1 : 0;
  });
  const guard = uncertainty + GUARD * Math.max(0, ...estimates.map((e) => e?.miss ?? 0));
  const near = reads
    .map((read, i) => ({ i, distance: Math.abs(heard(read.value) - threshold) }))
    .filter(
      ({ i, distance }) =>
        reads[i]!.by === 'estimate' && !(distance > guard && reads[i]!.bit === reads[i]!.step.expects),
    )
    .sort((a, b) => a.distance - b.distance);
  const extremes = ([0, 1] as const).flatMap((bit) => extremeReads(bit));
  const most = options.runs ?? 256;
  const chosen = new Set([...extremes, ...near.slice(0, most).map(({ i }) => i)]);
  const unchecked = Math.max(0, near.length - most);

  let miss = 0;
  let checked = 0;
  let k = -1;
  const second =
    chosen.size === 0 ||
    walk(
      (step, _, history) => {
        if (step.expects === undefined) return;
        k++;
        const read = reads[k]!;
        if (!chosen.has(k) || read.by === 'run') return;
        const found = reader(step, history);
        runs++;
        checked++;
        miss = Math.max(miss, Math.abs(found.value - read.value));
        Object.assign(read, found, { by: 'run' });
      },
      0.5,
      0.5,
    );
  return finish(second ? 'done' : 'cancelled', guard, unchecked, miss, checked);

  /** Reads whose estimate is the least ONE or the greatest ZERO, a few of each, so that the extremes stand on full runs. */
  function extremeReads(bit: 0 | 1): number[] {
    return reads
      .flatMap((read, i) => (read.step.expects === bit ? [i] : []))
      .sort((a, b) => (bit === 1 ? 1 : -1) * (heard(reads[a]!.value) - heard(reads[b]!.value)))
      .slice(0, 4)
      .filter((i) => reads[i]!.by === 'estimate');
  }

  /** Every step of the programme from the start; false when cancelled. */
  function walk(
    visit: (step: MatStep, n: number, history: MatHistory) => void,
    from: number,
    share: number,
  ): boolean {
    const history = makeMatHistory(design, { bits: storedBits(design), currents: reader.currents });
    for (let n = 0; n < total; n++) {
      if (options.cancelled?.()) return false;
      if (n % 64 === 0) options.progress?.(from + (share * n) / total);
      const step = matStep(programme, design.mat, n);
      visit(step, n, history);
      history.apply(step.cycle);
    }
    options.progress?.(from + share);
    return true;
  }

  function finish(
    outcome: 'done' | 'cancelled',
    guard: number,
    unchecked: number,
    miss: number,
    checked = 0,
  ): MatTestResult {
    const judgedReads = reads.filter((read) => Number.isFinite(read.value));
    const told = (read: Judged): MatRead => ({
      step: read.n,
      pass: read.step.pass,
      row: read.step.cycle.row,
      column: read.step.cycle.column,
      expects: read.step.expects!,
      value: heard(read.value),
      by: read.by,
    });
    const right = judgedReads.filter((read) => read.bit === read.step.expects);
    const least = (bit: 0 | 1): MatRead | undefined => {
      const sign = bit === 1 ? 1 : -1;
      const of = judgedReads.filter((read) => read.step.expects === bit);
      if (of.length === 0) return undefined;
      return told(of.reduce((a, b) => (sign * heard(b.value) < sign * heard(a.value) ? b : a)));
    };
    return {
      programme: programme.name,
      outcome,
      cycles: total,
      reads: judgedReads.length,
      wrong: judgedReads.filter((read) => read.bit !== read.step.expects).map(told),
      doubtful: right.filter((read) => Math.abs(heard(read.value) - threshold) < uncertainty).length,
      leastOne: least(1),
      greatestZero: least(0),
      runs,
      estimate: { miss, checked },
      guard,
      unchecked,
    };
  }
}

interface Reader {
  /** Value with the sign of the selected core's polarity, V, and the bit that the latch takes. */
  (step: MatStep, history: MatHistory): { value: number; bit: 0 | 1 };
  readonly currents: (bit: 0 | 1) => LineRun;
}

/** Full runs of single reads from given states, no longer than the strobe needs. */
function makeReader(design: Design, { simulate, cancelled }: MatTestOptions): Reader {
  const coupling = repetitionCoupling(design, simulate);
  const runs: Partial<Record<0 | 1, LineRun>> = {};
  const { polarity } = wirePath(design);
  const { row, column } = design.selected;
  const restore = { row, column, lines: 'both', read: true, write: 'restore' } as const;
  const read = (step: MatStep, history: MatHistory): { value: number; bit: 0 | 1 } => {
    const { row, column } = step.cycle;
    const bit = history.bits[row * design.mat.columns + column] === 1 ? 1 : 0;
    const programme = [{ ...step.cycle, write: 'restore' as const }];
    const at: Design = { ...design, selected: { row, column, bit }, programme };
    const run = simulate(at, {
      bits: history.bits,
      initial: { phi: history.flux.phi.slice(), psi: history.flux.psi.slice() },
      coupling,
      contributions: false,
      estimateError: false,
      until: strobeEnd(design),
      cancelled,
    });
    const { value } = run.strobe;
    if (design.amplifier.polarity === 'address') return { value, bit: run.strobe.bit };
    // Rectified: the sign is that of the sense voltage that the strobe hears, seen from the selected core.
    const seen = Math.round((run.strobe.time - design.detector.delay) / design.numerics.output);
    const u =
      run.senseVoltage[Math.min(seen, run.senseVoltage.length - 1)]! *
      polarity[row * design.mat.columns + column]!;
    return { value: u < 0 ? -value : value, bit: run.strobe.bit };
  };
  const currents = (bit: 0 | 1): LineRun =>
    (runs[bit] ??= simulate(
      { ...design, selected: { ...design.selected, bit }, programme: [restore] },
      { contributions: false, estimateError: false, coupling: 0 },
    ));
  return Object.assign(read, { currents });
}

/** s after which nothing that the latch takes is still to come; a strobe that is to be found lies within the read. */
function strobeEnd(design: Design): number {
  const { time, aperture } = design.strobe;
  const read =
    design.cycle.readWidth +
    Math.abs(design.cycle.stagger) +
    Math.max(design.drive.x.rise, design.drive.y.rise);
  const end = time === undefined ? read + design.detector.delay : time + aperture / 2;
  return Math.min(design.cycle.period, end + 2 * design.numerics.output);
}
