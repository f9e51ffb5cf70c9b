import type { Trace } from '../align/trace-tools.ts';
import { concludeJudgement } from './judgement.ts';
import type { Finding, Judgement } from './judgement.ts';
import {
  averaged,
  clipped,
  clippedSamples,
  coarse,
  faint,
  limited,
  offset,
  readSignal,
  twoLevel,
} from './signal-findings.ts';

const CURRENT: Finding = {
  code: 'current',
  weight: 'blocks',
  belief: 'It is a current, not a voltage.',
  evidence: 'Its unit is the ampere.',
  remedy: 'Give it as the drive of a capture, and choose the trace in volts as the sense wire.',
  size: 1,
};

/**
 * Judges a trace by itself, without any design: is it a voltage at all, clipped, of two levels, sampled finely enough?
 * @param unit of the trace; left out: volts
 */
export function judgeSignal(trace: Trace, unit: 'V' | 'A' = 'V'): Judgement {
  const signal = readSignal(trace);
  const flags = clippedSamples(signal);
  const basic = unit === 'A' ? CURRENT : (faint(signal) ?? twoLevel(signal));
  const findings =
    basic !== undefined
      ? [basic]
      : [clipped(signal, flags), limited(signal), coarse(signal), offset(signal), averaged(signal)].filter(
          (f) => f !== undefined,
        );
  return { ...concludeJudgement(findings), findings, probe: 1, bandwidth: Infinity, clipped: flags };
}
