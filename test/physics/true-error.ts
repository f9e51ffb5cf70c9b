import type { Design } from '../../engine/design/design.ts';
import { cycleProgramme } from '../../engine/drive/programme.ts';
import { wirePath } from '../../engine/mat/winding.ts';
import { chooseSections } from '../../engine/network/sections.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { greatest, peakOf } from './trace-tools.ts';

/** s after a slope jump in which the wire's own transients pass. */
const SETTLING = 25e-9;

export interface TrueError {
  readonly run: Simulation;
  /** V: greatest over the cycle, and from 25 ns after a slope jump on. */
  readonly all: number;
  readonly betweenEdges: number;
  /** V: greatest of the signal, and of the selected core's bell in the read. */
  readonly peak: number;
  readonly one: number;
}

/**
 * Error of a run at its default settings against one of four times finer steps and four times the sections, which solves the
 * cores with every step of the wire.
 */
export function trueError(design: Design, estimateError: boolean): TrueError {
  const sections = chooseSections(design, wirePath(design).order.length);
  const run = simulate(design, { estimateError });
  const numerics = { ...design.numerics, sections: Math.min(1024, 4 * sections) };
  const exact = { refine: 4, coupled: true, estimateError: false, contributions: false };
  const fine = simulate({ ...design, numerics }, exact);
  const { jumps } = cycleProgramme(design, design.programme.at(-1)!, true);
  let all = 0;
  let betweenEdges = 0;
  let next = 0;
  for (let i = 0; i < run.time.length; i++) {
    const t = run.time[i]!;
    while (next < jumps.length && jumps[next]! <= t) next++;
    const error = Math.abs(run.senseVoltage[i]! - fine.senseVoltage[i]!);
    all = Math.max(all, error);
    if (next === 0 || t - jumps[next - 1]! > SETTLING) betweenEdges = Math.max(betweenEdges, error);
  }
  const { readWidth } = design.cycle;
  return {
    run,
    all,
    betweenEdges,
    peak: Math.abs(greatest(run.senseVoltage)),
    one: Math.abs(peakOf(run.time, run.contributions!.selectedCore, 50e-9, readWidth - 50e-9).value),
  };
}

/** True over reported, of the whole cycle and between edges; 0 where both are rounding. */
export function coverage({ run, all, betweenEdges, peak }: TrueError): readonly [number, number] {
  const over = (true_: number, reported: number): number => (true_ < 1e-9 * peak ? 0 : true_ / reported);
  return [over(all, run.error!.senseVoltage), over(betweenEdges, run.error!.betweenEdges)];
}
