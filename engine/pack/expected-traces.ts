import { ordinaryCore } from '../mat/ordinary-core.ts';
import type { Design } from '../design/design.ts';
import { readEnd } from '../drive/programme.ts';
import { finished } from '../solver/finished.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { applyOverrides } from '../strobe/case-overrides.ts';

export type Simulate = (design: Design, options?: SimulateOptions) => Simulation;

/** What a probe should show, with the band it may lie in. */
export interface ExpectedTrace {
  readonly title: string;
  /** s from the start of read. */
  readonly time: Float64Array;
  /** V at the sense wire, end B against end A. */
  readonly nominal: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** What made the band. */
  readonly band: string;
}

export interface ExpectedTraces {
  /** The selected X line read alone. */
  readonly halfSelect: ExpectedTrace;
  /** A ONE (nominal) and the band of what a ZERO may be is drawn apart: here the ONE. */
  readonly read: ExpectedTrace;
  readonly zero: ExpectedTrace;
  /** The ONE with a magnet at its core. */
  readonly magnet: ExpectedTrace;
}

/** A ONE and a ZERO at the selected address. */
export type ReadTraces = Pick<ExpectedTraces, 'read' | 'zero'>;

/** Ampere-turns of a small magnet over the core's coercive drive: our own choice, enough to hold it wherever it is. */
const MAGNET = 4;

/**
 * The four traces of the first hours, each over the patterns all ZERO, all ONE and as given, and with every drive two
 * standard deviations low and high. @param run the solver, or one that can be cancelled
 * @throws UnusableRun: no trace is expected of a run that went wrong
 */
export function expectedTraces(design: Design, run: Simulate): ExpectedTraces {
  const { row, column } = design.selected;
  const bias = MAGNET * design.core.parameters.coerciveDrive;
  const one = readOf(design, 1);
  const others = one.exceptions.filter((e) => e.row !== row || e.column !== column);
  const held = { ...ordinaryCore(row, column), bias: -bias };
  return {
    halfSelect: over(applyOverrides(design, cycleOf(design, 'x')), run, 'X alone'),
    ...readTraces(design, run),
    magnet: over({ ...one, exceptions: [...others, held] }, run, 'a ONE with a magnet at its core'),
  };
}

/** The two that tell whether a bit can be read, alone: of a stage on the way. */
export const readTraces = (design: Design, run: Simulate): ReadTraces => ({
  read: over(readOf(design, 1), run, 'a ONE'),
  zero: over(readOf(design, 0), run, 'a ZERO'),
});

function readOf(design: Design, bit: 0 | 1): Design {
  const { row, column } = design.selected;
  return applyOverrides(design, { selected: { row, column, bit }, ...cycleOf(design, 'both') });
}

const cycleOf = ({ selected: { row, column } }: Design, lines: 'both' | 'x'): Partial<Design> => ({
  programme: [{ row, column, lines, read: true, write: lines === 'x' ? 'none' : 'restore' }],
});

function over(design: Design, run: Simulate, title: string): ExpectedTrace {
  const options = { contributions: false, estimateError: false, until: readEnd(design) } as const;
  const { drive, tolerances } = design;
  const spread = 2 * tolerances.drive;
  const at = (factor: number, kind: Design['stored']['kind'] | undefined): Float64Array => {
    const line = ({ readAmplitude, writeAmplitude, source }: Design['drive']['x']) => ({
      readAmplitude: readAmplitude * factor,
      writeAmplitude: writeAmplitude * factor,
      ...(source.kind === 'voltage' ? { source: { ...source, voltage: source.voltage * factor } } : {}),
    });
    const changed = applyOverrides(design, {
      drive: { x: line(drive.x), y: line(drive.y) },
      ...(kind === undefined ? {} : { stored: { kind, complement: false } }),
    });
    return finished(run(changed, options), title).senseVoltage;
  };
  const nominal = finished(run(design, options), title);
  const all = [
    nominal.senseVoltage,
    ...([1 - spread, 1 + spread] as const).flatMap((factor) => [at(factor, 'zeros'), at(factor, 'ones')]),
  ];
  const length = Math.min(...all.map((trace) => trace.length));
  const pick = (of: (values: number[]) => number): Float64Array =>
    Float64Array.from({ length }, (_, i) => of(all.map((trace) => trace[i]!)));
  return {
    title,
    time: nominal.time.slice(0, length),
    nominal: nominal.senseVoltage.slice(0, length),
    low: pick((values) => Math.min(...values)),
    high: pick((values) => Math.max(...values)),
    band: `all ZERO and all ONE stored, drives ${Math.round(spread * 1000) / 10} % low and high`,
  };
}
