import { formatFigure, formatQuantity } from '../../engine/base/format-quantity.ts';
import { CAUSE_NAMES, CONTRIBUTIONS } from '../../engine/network/causes.ts';
import type { Simulation } from '../../engine/solver/result.ts';
import { textTable } from './table.ts';
import { describeDesign } from './words.ts';

const volt = (value: number): string => formatFigure(value, 'V');
const second = (value: number): string => formatQuantity(value, 's');
/** Three digits, of what is a millionth of the sources' energy at least. */
const joule = (value: number, source: number): string => {
  const told = Math.abs(value) < 1e-6 * source ? 0 : value;
  return `${formatQuantity(told * 1e9, '1')} nJ`;
};

/** A run for a reader: the bit, the peak, the causes at the strobe, energy and error; of one that went wrong only how and its energy. */
export function simulationText(run: Simulation): string {
  const { strobe, method, time, senseVoltage, outcome, baseline, error } = run;
  const design = describeDesign(run.design);
  if (outcome.kind !== 'done') {
    const ended = `The run ended at ${second(outcome.time)} (${outcome.kind}): ${outcome.advice}`;
    return [design, `${ended}\n`, energyText(run)].join('\n');
  }
  const peak = greatest(senseVoltage);
  const read =
    `Read as ${strobe.bit === 1 ? 'ONE' : 'ZERO'}: at the strobe, ${second(strobe.time)} after the start of read, ` +
    `the amplifier stands at ${volt(strobe.value)} against a threshold of ${volt(strobe.threshold)} ` +
    `(both referred to the sense wire).\n` +
    `Greatest sense voltage ${volt(senseVoltage[peak])} at ${second(time[peak])}.\n`;
  const missed =
    error === undefined
      ? 'Error of the sense voltage not estimated.'
      : `Estimated error of the sense voltage ${volt(error.senseVoltage)} at most, ${volt(error.betweenEdges)} between edges (one run compared with one of doubled step and half the sections).`;
  return [
    design,
    read,
    ...(baseline === undefined ? [] : [baselineText(run, baseline)]),
    causes(run),
    energyText(run),
    `${missed}\n${method.sections} sections, ${method.classes} classes of cores, ${method.steps} steps of at most ${second(method.step)}.\n`,
  ].join('\n');
}

const energyText = ({ energy }: Simulation): string =>
  'Energy over the observed cycle\n' +
  textTable([
    ['from the sources', joule(energy.source, energy.source)],
    ['lost in resistance', joule(energy.resistive, energy.source)],
    ['lost and stored in cores', joule(energy.cores, energy.source)],
    ['stored in wires', joule(energy.stored, energy.source)],
    ['unaccounted for', joule(energy.residual, energy.source)],
  ]);

/** What endless cycles before have left of an AC-coupled amplifier's baseline. */
function baselineText({ design }: Simulation, baseline: number): string {
  const { period, inhibitedShare = 0 } = design.cycle;
  const share = Number((100 * inhibitedShare).toPrecision(3));
  return (
    `After endless cycles at ${formatQuantity(1 / period, 'Hz')}, ${share} % of them inhibited, the AC-coupled ` +
    `amplifier's baseline lies ${volt(Math.abs(baseline))} too ${baseline < 0 ? 'high' : 'low'} (referred to the sense wire).\n`
  );
}

/** Each cause at the strobe and at its own greatest. */
function causes(run: Simulation): string {
  const { contributions } = run;
  if (contributions === undefined) return 'Causes not asked for.\n';
  const { output } = run.design.numerics;
  const at = Math.min(run.time.length - 1, Math.max(0, Math.round((run.strobe.time - run.time[0]) / output)));
  const row = (name: string, trace: Float64Array): string[] => {
    const peak = greatest(trace);
    return [name, volt(trace[at]), volt(trace[peak]), second(run.time[peak])];
  };
  return (
    'Causes of the sense voltage\n' +
    textTable([
      ['', 'at the strobe', 'greatest', 'at'],
      ...CONTRIBUTIONS.map((name) => row(CAUSE_NAMES[name].title, contributions[name])),
      row('sense voltage', run.senseVoltage),
    ])
  );
}

/** Index of the greatest magnitude. */
function greatest(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (Math.abs(values[i]) > Math.abs(values[best])) best = i;
  return best;
}
