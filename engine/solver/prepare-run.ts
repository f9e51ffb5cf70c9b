import { lineResistance, senseResistance } from '../mat/wire-at-temperature.ts';
import { halfWidth, ringBells } from '../core/closed-forms.ts';
import { groupCores, roleOf, UNSELECTED, type CoreClasses } from '../network/core-classes.ts';
import { atTemperature, decaySwing } from '../core/model.ts';
import { coupleLines } from '../network/coupling.ts';
import type { Design } from '../design/design.ts';
import type { Cycle, LineDrive } from '../design/drive.ts';
import type { LineModel } from './drive-line.ts';
import type { DriveFactors } from './core-state.ts';
import { driveLevels, warmCurrents } from '../drive/at-temperature.ts';
import { cycleProgramme } from '../drive/programme.ts';
import { givesWay, mayReachLimit } from '../drive/line-voltage.ts';
import type { CycleRun, Problem } from './run-problem.ts';
import {
  chooseSections,
  cutSections,
  leadSection,
  SHORT,
  wireDelay,
  wireImpedance,
  type Sections,
} from '../network/sections.ts';
import { fill, filled } from '../numerics/filled.ts';
import { isLongWire } from './long-wire/long-wire.ts';
import { closesTightLoop } from './tight-loop.ts';
import type { SimulateOptions } from './result.ts';
import { chooseSteps, type StepRule } from './time-grid.ts';
import type { WirePath } from '../mat/winding.ts';

/** @property heardFor s for which the amplifier remembers what it hears; undefined: nobody knows */
export type RunOptions = SimulateOptions & { readonly heardFor?: number };

/**
 * A design and stored bits as the arrays that the time loop runs on.
 * @param wanted number of sections; @param refine see SimulateOptions
 */
export function prepareRun(
  design: Design,
  path: WirePath,
  wanted: number,
  bits: Uint8Array,
  refine: number,
  options: RunOptions,
): Problem {
  const sections = cutSections(design, path, wanted);
  const { x, y } = design.drive;
  const limited = { x: mayReachLimit(design, 'x'), y: mayReachLimit(design, 'y') };
  const stacked = givesWay(design, 'x') || givesWay(design, 'y');
  const watched = (options.sharesAt?.length ?? 0) > 0;
  const classes = groupCores(
    design,
    sections,
    bits,
    path.polarity,
    options.spread,
    stacked,
    options.initial,
    watched,
  );
  const lines = {
    x: lineModel(x, lineResistance(design, 'x'), stacked ? 1 : design.mat.mats, limited.x),
    y: lineModel(y, lineResistance(design, 'y'), stacked ? 1 : design.mat.mats, limited.y),
  };
  const stated = design.numerics.step !== undefined;
  const tight = closesTightLoop(sections, classes, [lines.x, lines.y]);
  const rule = stepRule(design, path.order.length);
  const problem: Omit<Problem, 'byCores'> = {
    sections,
    classes,
    cycles: prepareCycles(design, sections, classes, path, bits),
    period: design.cycle.period,
    until: options.until ?? Infinity,
    memory: stacked || tight || stated ? Infinity : wireMemory(rule) + (options.heardFor ?? Infinity),
    lineX: lines.x,
    lineY: lines.y,
    tight,
    lands: stacked,
    clamp: design.drive.inhibit.clamp,
    linger: Math.max(lingerOf(design, 'x', limited.x), lingerOf(design, 'y', limited.y)),
    rule,
    refine,
    split: options.contributions !== false,
    // Where a run may lose its way it shows in its energy: there the books are always kept, but for runs coarser than the
    // design, which only search and compare; what they find is run again as it is.
    balance: options.balance !== false || (refine >= 1 && (stacked || tight || stated)),
    sharesAt: options.sharesAt ?? [],
    cancelled: options.cancelled,
  };
  return {
    ...problem,
    byCores: options.coupled !== true && !stated && !tight && isLongWire(problem),
  };
}

/**
 * s in which the clamp takes a line's current down, from above: current times all the inductance on the line over
 * the clamp's voltage, twice, and time for what the cores give back. 0 for a current source within its limits.
 */
function lingerOf(design: Design, name: 'x' | 'y', limited: boolean): number {
  const { drive, mat, core } = design;
  const line = drive[name];
  if (line.source.kind === 'current' && !limited) return 0;
  const cores = mat.mats * (name === 'x' ? mat.columns : mat.rows);
  const level = driveLevels(design)[name];
  const current = Math.max(level.read, level.write);
  const inductance = line.inductance + cores * core.parameters.elasticKnee;
  return 50e-9 + (2 * current * inductance) / line.clamp;
}

/** @param cores on the wire */
export function stepRule(design: Design, cores: number): StepRule {
  const { x, y, inhibit } = design.drive;
  const fastest = Math.min(x.rise, x.fall, y.rise, y.fall, inhibit.rise, inhibit.fall);
  const ringing = Math.max(
    ...[x, y, inhibit].map((d) => (d.overshoot.fraction > 0 ? d.overshoot.frequency : 0)),
  );
  const delay = wireDelay(design, cores) + 2 * design.wire.cable.delay;
  const scales = {
    edge: fastest,
    ringing,
    delay,
    fade: fadeOf(design, cores, delay),
    lossTime: design.wire.lossTime,
    section: ringingSection(design, cores),
    output: shortestOutput(design),
  };
  return chooseSteps(scales, design.numerics.step);
}

/**
 * s, one way along a section whose ringing steps are to follow. Leads in much longer sections keep it in the wire between
 * them for good: Infinity, as following it then mends nothing.
 */
function ringingSection(design: Design, cores: number): number {
  const own = wireDelay(design, cores) / chooseSections(design, cores);
  if (design.wire.cable.delay === 0) return own;
  return own > leadSection(own) / 2 ? own : Infinity;
}

/** s after which less than a millionth is left of what runs to and fro on the wire. */
const wireMemory = ({ transit, fade }: StepRule): number => transit + Math.log(1e6) / fade;

/** 1/s, at which what runs to and fro on the wire decays: reflections at its ends, and its resistance. */
function fadeOf(design: Design, cores: number, delay: number): number {
  const { terminations, amplifier } = design;
  const impedance = wireImpedance(design);
  const reflected = (ohm: number): number => {
    const end = 1 / (1 / Math.max(ohm, SHORT) + 1 / amplifier.inputResistance);
    return Math.abs((end - impedance) / (end + impedance));
  };
  const kept = Math.exp((-cores * senseResistance(design)) / impedance);
  const back = reflected(terminations.a) * reflected(terminations.b) * kept;
  return -Math.log(Math.max(back, 1e-9)) / (2 * delay);
}

/** s: width at half height of the narrowest bell of the selected core's rings at full drive, or twice the time of its decaying part. */
function shortestOutput(design: Design): number {
  const p = atTemperature(design.core.parameters, design.temperature);
  const { fullRead, fullWrite } = warmCurrents(design);
  const full = Math.max(fullRead, fullWrite);
  const widths = ringBells(p, full).map((bell) => (bell.vP > 0 ? halfWidth(bell) : Infinity));
  const decays = decaySwing(p) > 0 && full > p.decayThreshold;
  return Math.min(...widths, decays ? (2 * p.decayCharge) / (full - p.decayThreshold) : Infinity);
}

function prepareCycles(
  design: Design,
  sections: Sections,
  classes: CoreClasses,
  path: WirePath,
  bits: Uint8Array,
): CycleRun[] {
  const { columns } = design.mat;
  const held = bits.slice();
  const othersKeepZeros = classes.keepsZero.includes(1);
  return design.programme.map((cycle) => {
    const at = cycle.row * columns + cycle.column;
    const inhibited =
      cycle.lines === 'both' && (cycle.write === 'zero' || (cycle.write === 'restore' && held[at] === 0));
    // Mats in series that keep a ZERO are inhibited whatever this one keeps.
    const others = othersKeepZeros && cycle.lines === 'both' && cycle.write !== 'none';
    if (cycle.lines === 'both') held[at] = bitAfter(cycle, held[at]!);
    return {
      programme: cycleProgramme(design, cycle, inhibited || others),
      factors: factorsOf(cycle, classes, sections, path.shared, inhibited),
      coupling: coupleLines(
        design,
        sections,
        path.polarity,
        cycle.lines === 'y' ? -1 : cycle.row,
        cycle.lines === 'x' ? -1 : cycle.column,
        !path.shared,
        inhibited,
      ),
    };
  });
}

/** What an addressed core holds after a cycle, by intention. */
function bitAfter(cycle: Cycle, bit: number): number {
  switch (cycle.write) {
    case 'one':
      return 1;
    case 'zero':
      return cycle.read ? 0 : bit;
    case 'restore':
      return bit;
    case 'none':
      return cycle.read ? 0 : bit;
  }
}

function factorsOf(
  cycle: Cycle,
  classes: CoreClasses,
  sections: Sections,
  shared: boolean,
  inhibited: boolean,
): DriveFactors {
  const map = (f: (c: number) => number): Float64Array => filled(classes.size, f);
  return {
    role: fill(new Uint8Array(classes.size), (c) =>
      classes.otherMat[c] === 1 ? UNSELECTED : roleOf(cycle, classes.row[c]!, classes.column[c]!),
    ),
    x: map((c) => (cycle.lines !== 'y' && classes.row[c] === cycle.row ? 1 : 0)),
    y: map((c) => (cycle.lines !== 'x' && classes.column[c] === cycle.column ? 1 : 0)),
    // A shared wire carries the inhibit current itself, except past the end of a cut wire's segment.
    inhibit: map((c) => {
      if (classes.keepsZero[c] === 1) return -1;
      if (classes.otherMat[c] === 1 || !inhibited) return 0;
      return shared && classes.section[c] !== sections.count ? 0 : -1;
    }),
  };
}

function lineModel(d: LineDrive, resistance: number, scale: number, limited: boolean): LineModel {
  return {
    inductance: d.inductance,
    resistance,
    sourceResistance: d.source.kind === 'voltage' ? d.source.resistance : undefined,
    clamp: d.clamp,
    compliance: limited ? d.compliance : Infinity,
    scale,
  };
}
