import { wholeGain } from '../../sense-amplifier/referred.ts';
import { applyPatches, type Patch } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { supplyCurrent } from '../../estimates/supply-needs.ts';
import { baselineShift } from '../../sense-amplifier/periodic-steady-state.ts';
import { steadyCouplings } from '../../sense-amplifier/repetition.ts';
import type { Simulation } from '../../solver/result.ts';
import { quantityJson } from '../shared/inputs.ts';
import { fixedStrobe, historyPatches, freeStrobe } from '../shared/reading.ts';
import type { PointResult, StudyPlan, StudyTools } from '../shared/shape.ts';
import type { RateOptions } from './rate-options.ts';
import { ofWindow, readCases, readAsWindow } from './read-period.ts';
import { finished } from '../../solver/finished.ts';

type Values = PointResult['values'];

/** All that a period costs and leaves, a row of the study's table; `cases`: those of the window that count. */
export function onePeriod(
  plan: StudyPlan<RateOptions>,
  period: number,
  tools: StudyTools,
  cases: 'quick' | 'nominal' = 'nominal',
): Values {
  const strobe = plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
  const patches = [
    ...periodPatch(period),
    ...(ofWindow(plan)
      ? []
      : historyPatches(plan.design, tools.checkDesign(plan.design), plan.options.history)),
    ...strobe,
  ];
  const design = tools.checkDesign(applyPatches(plan.design, patches));
  const couplings = couplingsOf(design, tools);
  const { reading, pulses, tail } = ofWindow(plan)
    ? readAsWindow(design, tools, cases)
    : readCases(design, plan, couplings, tools);
  const shifts = couplings.map((coupling) => baselineShift(design.amplifier, coupling));
  const inhibited = tools.simulate(endsInhibited(design), {
    contributions: false,
    estimateError: false,
    balance: false,
    coupling: 0,
  });
  finished(inhibited);
  const current = supplyCurrent(design, 1 / period);
  const recovery = recoveryTime(inhibited, plan.options.fraction);
  const limit = !reading.pass
    ? `strobe: ${reading.reason}`
    : recovery === null
      ? 'recovery: the sense wire is not quiet when the next read starts'
      : current > design.supply.budget
        ? 'supply: the current is over the budget'
        : '';
  return {
    rate: 1 / period,
    period,
    margin: reading.margin,
    width: reading.width,
    fallen: pulses?.zeroFallen ?? null,
    held: pulses?.oneHeld?.after ?? null,
    tail,
    recovery,
    baseline: shifts.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)),
    ...(shifts.length === 2 ? { baselineNone: shifts[0]!, baselineAll: shifts[1]! } : {}),
    current,
    budget: design.supply.budget,
    dissipation: current * design.supply.voltage,
    pass: limit === '',
    limit,
  };
}

export const periodPatch = (period: number): Patch[] => [
  { path: '/cycle/period', value: quantityJson(period, 's') },
];

/** The same design, its observed cycle writing a ZERO: the tail after inhibit is then in the record. */
function endsInhibited(design: Design): Design {
  const programme = design.programme.map((cycle, i) =>
    i === design.programme.length - 1 ? { ...cycle, write: 'zero' as const } : cycle,
  );
  return { ...design, programme };
}

/** From the end of the write pulse to the last time the amplifier is over a fraction of threshold; null if never under. */
function recoveryTime(run: Simulation, fraction: number): number | null {
  const { cycle, amplifier, detector } = run.design;
  const limit = fraction * detector.threshold * wholeGain(amplifier);
  let last = run.time.length - 1;
  while (last >= 0 && Math.abs(run.amplifierOutput[last]!) <= limit) last--;
  if (last === run.time.length - 1) return null;
  return Math.max(0, (run.time[last] ?? 0) - (cycle.readWidth + cycle.gap + cycle.writeWidth));
}

/**
 * V that endless cycles at this period leave on the amplifier's coupling capacitor: at the share of inhibited ones that the design
 * states; else with none and with all of them inhibited, for every other share lies between. DC coupled: nothing.
 */
function couplingsOf(design: Design, tools: StudyTools): readonly number[] {
  if (design.amplifier.highPass === 0) return [0];
  const { one, zero } = steadyCouplings(design, tools.simulate);
  const share = design.cycle.inhibitedShare;
  if (share !== undefined) return [share * zero + (1 - share) * one];
  return [one, zero];
}
