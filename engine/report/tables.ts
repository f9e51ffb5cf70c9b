import type { Advice } from '../advice/advice.ts';
import type { Change } from '../advice/changes.ts';
import { beyondAdvice, judgedOver, changeValueText, perUnitText } from '../advice/words.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import type { Design } from '../design/design.ts';
import type { BuildNumbers } from '../estimates/build-numbers.ts';
import { CAUSE_NAMES, CONTRIBUTIONS } from '../network/causes.ts';
import type { Simulation } from '../solver/result.ts';
import { chainRows } from '../strobe/chain-words.ts';
import { JITTER_SIGMAS, strobeUncertainties } from '../strobe/envelope.ts';
import { LEDGER_HEADER, ledgerRows } from '../strobe/ledger-words.ts';
import { setRows, verdictSentence } from '../strobe/verdict-words.ts';
import type { Judgement } from '../strobe/verdict-of-sets.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import {
  fixedMillivolts,
  PULSE_HEADER,
  pulseRows,
  tellingCases,
  windowRows,
} from '../strobe/window-words.ts';
import { escapeText, keepUnits, paragraph, table } from './markup.ts';

const volts = (value: number): string => formatQuantity(value, 'V');
const seconds = (value: number): string => formatQuantity(value, 's');

const MARKS: Readonly<Record<Judgement, string>> = { reads: 'ok', short: 'warn', fails: 'bad' };
const SIGNS: Readonly<Record<Judgement, string>> = { reads: '✓', short: '▲', fails: '✗' };

/** The verdict with a mark: which set decides and by how much; then the strobe as designed. */
export function headline(design: Design, window: StrobeWindow): string {
  const { strobe, inForce, reason, distance, verdict } = window;
  const words = verdictSentence(design, window);
  const own = strobe
    ? `Strobe at ${seconds(inForce.time)} with a threshold of ${volts(inForce.threshold)}: as designed the window is ${seconds(strobe.width)} wide (${seconds(strobe.start)} to ${seconds(strobe.end)}).${distance ? '' : ' The strobe lies outside the window.'}`
    : (reason ?? '');
  const mark = `<span class="status ${MARKS[verdict.design]}">${SIGNS[verdict.design]} ${escapeText(words)}</span>`;
  return `<p class="lead">${mark} ${escapeText(own)}</p>`;
}

/** Every set of cases with its judgement. */
export function setTable(design: Design, window: StrobeWindow): string {
  return table(['Set of cases', 'verdict', 'by'], setRows(design, window), 'words');
}

export function windowTable(design: Design, window: StrobeWindow): string {
  return table(['At the strobe in force', ''], windowRows(design, window));
}

export function pulseTable(window: StrobeWindow): string {
  return table(PULSE_HEADER, pulseRows(window), 'words');
}

export function contributionTable({ atStrobe }: StrobeWindow): string {
  return table(
    ['At the strobe', 'worst ONE', 'worst ZERO'],
    CONTRIBUTIONS.map((name) => [
      CAUSE_NAMES[name].title,
      fixedMillivolts(atStrobe.one[name]),
      fixedMillivolts(atStrobe.zero[name]),
    ]),
  );
}

/** From the selected core's signal to what is left, step by step. */
export function chainTable({ chain, chainSide }: StrobeWindow): string {
  return table(
    [`Chain of the margin, side ${chainSide === 'one' ? 'ONE' : 'ZERO'}`, 'adds', 'margin so far'],
    chainRows(chain, fixedMillivolts),
  );
}

/** What decides the answer and was not given. */
export function ledgerTable({ ledger }: StrobeWindow): string {
  const rows = ledgerRows(ledger);
  return rows.length === 0 ? '' : table(LEDGER_HEADER, rows, 'words');
}

/** Those nearest to the threshold; corners come last and are told by their names. */
export function caseTable(window: StrobeWindow): string {
  const { told, more } = tellingCases(window);
  const rows = told.map((c) => [
    keepUnits(c.name),
    fixedMillivolts(c.atStrobe),
    c.defines ? (c.bit === 1 ? 'least ONE' : 'greatest ZERO') : '',
  ]);
  const rest = more > 0 ? paragraph(`${more} more were run, none nearer to the threshold.`) : '';
  return table(['Case', 'at the strobe', 'sets'], rows, 'cases') + rest;
}

export function uncertaintyTable(design: Design, run: Simulation): string {
  const { detector, strobe, tolerances } = design;
  const { threshold, guard } = strobeUncertainties(design);
  const percent = (fraction: number): string => `${Number((fraction * 100).toPrecision(2))} %`;
  return (
    table(
      ['What is not known', 'how much', 'how it is meant'],
      [
        [
          'Threshold',
          `±${volts(threshold)}`,
          `limits: detector ±${volts(detector.uncertainty)}, half the hysteresis`,
        ],
        [
          'Strobe',
          `±${seconds(guard)}`,
          `limits: half the aperture, ${JITTER_SIGMAS} standard deviations of jitter (${seconds(strobe.jitter)} rms)`,
        ],
        ['Noise', `${volts(detector.noise)} rms`, 'Gaussian, in the chance of a wrong bit only'],
        ['Drive currents', percent(tolerances.drive), 'one standard deviation, in the corners only'],
        [
          'Drive supply',
          `±${percent(tolerances.supply)}`,
          'limits, moves drives and threshold alike; in the corners only',
        ],
        ['Temperature', `±${formatQuantity(tolerances.temperature, 'K')}`, 'limits, in the corners only'],
        [
          'Thresholds and flux of cores',
          `${percent(tolerances.coreThreshold)}, ${percent(tolerances.coreFlux)}`,
          'one standard deviation, in tolerance studies only',
        ],
        ...(run.error
          ? [
              [
                'Sense voltage, numerical',
                `±${volts(run.error.senseVoltage)}`,
                'greatest over the cycle, estimated from a coarser run',
              ],
              ['the same between edges', `±${volts(run.error.betweenEdges)}`, 'estimated from a coarser run'],
            ]
          : []),
      ],
      'words',
    ) +
    paragraph(
      `Energy that the books do not account for: ${formatQuantity(Math.abs(run.energy.residual / run.energy.delivered) * 100, '1', 2)} % of what the sources gave. What the model itself leaves out is not in these numbers.`,
    )
  );
}

export function buildTable(design: Design, build: BuildNumbers): string {
  const { drivers, supplyCurrent } = build;
  return table(
    ['', ''],
    [
      ['Cores in the stack', String(build.cores)],
      ['Drivers with inhibit, without', `${drivers.withInhibit}, ${drivers.withoutInhibit}`],
      ...build.needs.map(({ line, needed, power }) => [
        `${line === 'inhibit' ? 'Inhibit' : `Line ${line.toUpperCase()}`}: volts needed, heat of its driver`,
        `${formatQuantity(needed, 'V')}, ${formatQuantity(power.driver + power.resistor + power.clamp, 'W')}`,
      ]),
      [
        'Peak of the supply current, reservoir for 1 %',
        `${formatQuantity(build.peak.current, 'A')}, ${formatQuantity(build.peak.reservoir, 'F', 2)}`,
      ],
      [
        'Cycle rate as designed, highest',
        `${formatQuantity(build.rate, 'Hz')}, ${formatQuantity(build.highestRate, 'Hz')}`,
      ],
      [
        'Supply current, worst over data',
        `${formatQuantity(supplyCurrent.atRate, 'A')} of ${formatQuantity(design.supply.budget, 'A')}`,
      ],
    ],
  );
}

export function adviceTables(advice: Advice): string {
  const { costs, changes, pairs, wanted, met } = advice;
  const costRows = costs.map((c) => [
    c.label,
    perUnitText(c.onePerUnit, 'V', c.unit),
    perUnitText(c.zeroPerUnit, 'V', c.unit),
    perUnitText(c.widthPerUnit, 's', c.unit),
    c.takes === 0 ? '' : volts(c.takes),
  ]);
  const asked = `${volts(wanted.margin)} of margin and a window of ${seconds(wanted.width)}`;
  return (
    table(['Input', 'margin of a ONE', 'margin of a ZERO', 'width', 'its tolerance takes'], costRows) +
    (met
      ? paragraph(
          `${asked} are there over ${judgedOver(advice)}: for these nothing need change. ${beyondAdvice(advice)}`,
        )
      : paragraph(`Smallest single changes that give ${asked}. ${beyondAdvice(advice)}`.trimEnd()) +
        table(['Input', 'from', 'to', 'gives'], changes.map(changeRow), 'words') +
        pairTable(pairs))
  );
}

function pairTable(pairs: Advice['pairs']): string {
  if (pairs.length === 0) return '';
  const rows = pairs.flatMap(([first, second]) => [changeRow(first), changeRow(second)]);
  return (
    paragraph('Two changes together, the first and then the second:') +
    table(['Input', 'from', 'to', 'gives'], rows, 'words')
  );
}

function changeRow({ label, from, to, unit, gives, at }: Change): readonly string[] {
  const say = (value: Change['from']): string => changeValueText(value, unit);
  const result = Number.isFinite(gives.margin)
    ? `${volts(gives.margin)}, ${seconds(gives.width)}`
    : 'refused by the check';
  return [
    label,
    say(from),
    to === undefined ? 'not by this alone' : say(to),
    to === undefined && at !== undefined ? `at best ${result} at ${say(at)}` : result,
  ];
}
