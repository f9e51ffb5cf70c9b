import type { CoreParameters } from '../../../engine/design/core.ts';
import { modelTrace, type CoreCapture } from '../../../engine/fitting/jig/trace-model.ts';
import { withValueAt } from '../../model/pointer.ts';
import type { Exhibit, Step, StepTrace } from '../step.ts';
import { choiceOf, choose, percent, seconds, single, tell, tellPair, volts, VOLTAGE } from './bench.ts';

/**
 * A read of a ONE and the write that puts it back, of one core, with the current that flowed: "Magnetic Core Memory
 * Controller", 7 July 2025, GitHub repository HX2003/HX2003.github.io (commit 50467ac); read off its plots, means over
 * 20 ns. One turn is assumed; the temperature is not told there.
 */
const [text = ''] = Object.values(
  import.meta.glob<string>('../../../fixtures/cores/measured-1.3-mm/drive-and-sense.csv', {
    eager: true,
    import: 'default',
    query: '?raw',
  }),
);

/** s: nothing is driven before this. */
const IDLE = 0.5e-6;
/** s: tops of the read's and the write's pulse, where the edges of the current are over. */
export const READ = [1.24e-6, 2.12e-6] as const;
export const WRITE = [6.08e-6, 6.84e-6] as const;

/** Sense in V and current in A, each less what stands there while nothing is driven. */
export function capture(): CoreCapture {
  const rows = text
    .trim()
    .split('\n')
    .slice(2)
    .map((row) => row.split(',').map(Number) as [us: number, mV: number, mA: number]);
  const idle = rows.filter(([us]) => us * 1e-6 < IDLE);
  const column = (k: 1 | 2): Float64Array => {
    const rest = idle.reduce((sum, row) => sum + row[k], 0) / idle.length;
    return Float64Array.from(rows, (row) => (row[k] - rest) * 1e-3);
  };
  const sense = column(1);
  return {
    name: 'drive and sense',
    bit: 1,
    drive: {
      start: rows[0]![0] * 1e-6,
      step: (rows[1]![0] - rows[0]![0]) * 1e-6,
      current: column(2),
    },
    sense: sense.slice(1).map((value, k) => (value + sense[k]!) / 2),
    spans: [READ],
  };
}

/**
 * The core as a fit finds it from the read alone, and the read after it, which switches nothing: a fit takes too long
 * for an answer. A test fits it anew.
 */
export const FROM_READ: CoreParameters = {
  remanentFlux: 1.8318e-8,
  squareness: 0.95786,
  coerciveDrive: 0.37056,
  staticKneeWidth: 4.5211e-3,
  dynamicThreshold: 0.36927,
  dynamicKneeWidth: 0.039,
  switchingResistance: 0.6079,
  ringSpread: 0.13574,
  elasticSaturated: 1e-11,
  elasticKnee: 2.0035e-9,
  elasticBend: 0.1,
  decayResistance: 0.028215,
  decayCharge: 2.4851e-7,
  decayThreshold: 0.15,
  driveTemperatureCoefficient: -0.004,
  fluxTemperatureCoefficient: -0.001,
  outsideDiameter: 1.3e-3,
  insideDiameter: 0.8e-3,
  height: 0.4e-3,
};

interface Peak {
  /** V, its size. */
  readonly value: number;
  /** s */
  readonly time: number;
}

/** Measured and told from the read, with where they have their peaks. */
function compared() {
  const made = capture();
  const { drive, sense } = made;
  // Each is a mean from one sample to the next.
  const time = Float64Array.from(sense, (_, k) => drive.start + (k + 0.5) * drive.step);
  const told = modelTrace(FROM_READ, made);
  const peak = (values: Float64Array, [from, to]: readonly [number, number]): Peak =>
    time.reduce(
      (best, t, k) =>
        t >= from && t <= to && Math.abs(values[k]!) > best.value
          ? { value: Math.abs(values[k]!), time: t }
          : best,
      { value: 0, time: from },
    );
  const traces: readonly StepTrace[] = [
    { label: 'measured', style: 'one', time, values: sense },
    { label: 'told', style: 'half', time, values: told },
  ];
  const peaks = (span: readonly [number, number]): readonly [Peak, Peak] => [
    peak(sense, span),
    peak(told, span),
  ];
  return { traces, read: peaks(READ), write: peaks(WRITE) };
}

const shown = (span: readonly [number, number]): Exhibit => ({
  traces: compared().traces,
  quantity: VOLTAGE,
  span,
});

const line = { readAmplitude: '297 mA', writeAmplitude: '297 mA' };

/** A measured core beside what is told of it; what is asked for had no part in the fit. */
export const realCapture: Step = {
  id: 'real-capture',
  exhibit: () => shown([0.8e-6, 2.3e-6]),
  ask: choose('exact', 'near', 'far'),
  design: withValueAt(withValueAt(single, '/core', { preset: 'measured-1.3-mm' }), '/drive', {
    x: line,
    y: line,
  }),
  compute() {
    const { read, write } = compared();
    const off = write[1].value / write[0].value - 1;
    return {
      ...shown([5.7e-6, 7e-6]),
      truth: { kind: 'choose', right: choiceOf(Math.abs(off), [0.02, 0.15]) },
      answers: [
        tellPair('read', 'and', volts(read[0].value), volts(read[1].value)),
        tellPair('write', 'and', volts(write[0].value), volts(write[1].value)),
        tell('off', percent(off)),
        tell('early', seconds(write[0].time - write[1].time)),
      ],
    };
  },
};
