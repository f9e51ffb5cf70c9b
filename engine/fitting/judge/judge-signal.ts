import type { Trace } from '../align/trace-tools.ts';
import { concludeJudgement, type Finding, type Judgement } from './judgement.ts';
import { flat, noSignal, twoLevel } from './level-findings.ts';
import { averaged, offset } from './sample-findings.ts';
import { readSignal } from './signal.ts';
import { hum } from './span-findings.ts';

const CURRENT: Finding = {
  code: 'current',
  weight: 'blocks',
  belief: 'It is a current, not a voltage.',
  evidence: 'Its unit is the ampere.',
  remedy: 'Choose the trace in volts as the sense wire; a current belongs to the drive.',
  size: 1,
};

/**
 * Judges a trace by itself, without any design: is it a voltage at all, of two levels, does it rest, hum, look averaged?
 * @param unit of the trace; left out: volts
 */
export function judgeSignal(trace: Trace, unit: 'V' | 'A' = 'V'): Judgement {
  const signal = readSignal(trace);
  const basic = unit === 'A' ? CURRENT : (flat(signal) ?? twoLevel(signal) ?? noSignal(signal));
  const findings =
    basic !== undefined
      ? [basic]
      : [offset(signal), averaged(signal), hum(signal)].filter((f) => f !== undefined);
  const clipped = new Uint8Array(trace.time.length);
  return { ...concludeJudgement(findings), findings, probe: 1, bandwidth: Infinity, clipped };
}
