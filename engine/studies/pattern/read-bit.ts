import type { Design } from '../../design/design.ts';
import { halfSelectSum } from '../../mat/half-select-law.ts';
import { polarityOf } from '../../mat/winding.ts';
import { valueAt } from '../../sense-amplifier/detector.ts';
import { endOfRead, referred } from '../shared/reading.ts';
import type { StudyPlan, StudyTools } from '../shared/shape.ts';
import { arrange, type PatternName } from './stored-patterns.ts';
import { finished } from '../../solver/finished.ts';

interface BitReading {
  readonly value: number;
  readonly halfSelect: number;
  readonly count: number;
}

export function readBit(
  plan: StudyPlan,
  base: Design,
  name: PatternName,
  bit: 0 | 1,
  tools: StudyTools,
): BitReading {
  const { design, bits } = arrange(plan, base, name, bit);
  const run = tools.simulate(design, {
    bits,
    estimateError: false,
    balance: false,
    until: endOfRead(design),
  });
  finished(run);
  const seen = (design.strobe.time ?? 0) - design.detector.delay;
  const parts = run.contributions;
  if (!parts) throw new Error('The run was not split by cause.');
  return {
    value: valueAt(run.time, referred(run), seen),
    halfSelect:
      valueAt(run.time, parts.halfSelectedReversible, seen) +
      valueAt(run.time, parts.halfSelectedIrreversible, seen),
    count: halfSelectSum(polarityOf(design.mat, design.winding), bits, design.mat, design.selected, 1, 0),
  };
}
