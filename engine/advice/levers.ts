import type { Design } from '../design/design.ts';
import type { LineDrive } from '../design/drive.ts';
import type { Unit } from '../base/units.ts';

/** One input that a builder can turn, on a checked design. */
export interface Lever {
  readonly label: string;
  /** JSON pointers of what it sets. */
  readonly fields: readonly string[];
  readonly unit: Unit;
  readonly read: (design: Design) => number;
  readonly write: (design: Design, value: number) => Design;
  /** Ends of what is worth trying. */
  readonly range: (design: Design) => readonly [number, number];
  /** Trial values are spaced by equal ratios instead of equal differences. */
  readonly ratio: boolean;
  /** Step for a sensitivity, and one standard deviation that the design states for it (0: none). */
  readonly step: (design: Design) => number;
  readonly tolerance: (design: Design) => number;
}

const bothLines = (design: Design, change: (line: LineDrive) => LineDrive): Design => ({
  ...design,
  drive: { ...design.drive, x: change(design.drive.x), y: change(design.drive.y) },
});

/** A line with its currents scaled; a voltage source keeps its resistor. */
function scaleLine(line: LineDrive, factor: number): LineDrive {
  const { source } = line;
  return {
    ...line,
    readAmplitude: line.readAmplitude * factor,
    writeAmplitude: line.writeAmplitude * factor,
    source: source.kind === 'voltage' ? { ...source, voltage: source.voltage * factor } : source,
  };
}

export const THRESHOLD: Lever = {
  label: 'Threshold',
  fields: ['/detector/threshold'],
  unit: 'V',
  read: (d) => d.detector.threshold,
  write: (d, value) => ({ ...d, detector: { ...d.detector, threshold: value } }),
  range: (d) => [d.detector.threshold / 10, d.detector.threshold * 4],
  ratio: false,
  step: () => 1e-3,
  tolerance: (d) => d.tolerances.threshold * d.detector.threshold,
};

export const STROBE: Lever = {
  label: 'Strobe',
  fields: ['/strobe/time'],
  unit: 's',
  read: (d) => d.strobe.time ?? NaN,
  write: (d, value) => ({ ...d, strobe: { ...d.strobe, time: value } }),
  range: (d) => [0, d.cycle.readWidth + d.cycle.gap],
  ratio: false,
  step: () => 1e-9,
  tolerance: (d) => d.tolerances.strobe,
};

/** Inputs whose change needs new runs. */
export const RUN_LEVERS: readonly Lever[] = [
  {
    label: 'Stagger of Y after X',
    fields: ['/cycle/stagger'],
    unit: 's',
    read: (d) => d.cycle.stagger,
    write: (d, value) => ({ ...d, cycle: { ...d.cycle, stagger: value } }),
    range: (d) => [d.cycle.stagger - d.cycle.readWidth / 2, d.cycle.stagger + d.cycle.readWidth / 2],
    ratio: false,
    step: () => 2e-9,
    tolerance: () => 0,
  },
  {
    label: 'Rise of both lines',
    fields: ['/drive/x/rise', '/drive/y/rise'],
    unit: 's',
    read: (d) => d.drive.x.rise,
    write: (d, value) => bothLines(d, (line) => ({ ...line, rise: (line.rise * value) / d.drive.x.rise })),
    range: (d) => [d.drive.x.rise / 4, d.drive.x.rise * 4],
    ratio: true,
    step: () => 2e-9,
    tolerance: (d) => d.tolerances.edge * d.drive.x.rise,
  },
  {
    label: 'Current of both lines and inhibit',
    fields: [
      '/drive/x/readAmplitude',
      '/drive/x/writeAmplitude',
      '/drive/y/readAmplitude',
      '/drive/y/writeAmplitude',
      '/drive/inhibit/amplitude',
    ],
    unit: 'A',
    read: (d) => d.drive.x.readAmplitude,
    write: (d, value) => {
      const factor = value / d.drive.x.readAmplitude;
      const lines = bothLines(d, (line) => scaleLine(line, factor));
      const { inhibit } = d.drive;
      return {
        ...lines,
        drive: { ...lines.drive, inhibit: { ...inhibit, amplitude: inhibit.amplitude * factor } },
      };
    },
    range: (d) => [d.drive.x.readAmplitude * 0.8, d.drive.x.readAmplitude * 1.25],
    ratio: true,
    step: (d) => 0.005 * d.drive.x.readAmplitude,
    tolerance: (d) => d.tolerances.drive * d.drive.x.readAmplitude,
  },
  {
    label: 'Change of all drives with temperature',
    fields: [
      '/drive/x/temperatureCoefficient',
      '/drive/y/temperatureCoefficient',
      '/drive/inhibit/temperatureCoefficient',
    ],
    unit: '1/K',
    read: (d) => d.drive.x.temperatureCoefficient,
    write: (d, value) => {
      const lines = bothLines(d, (line) => ({ ...line, temperatureCoefficient: value }));
      return {
        ...lines,
        drive: { ...lines.drive, inhibit: { ...lines.drive.inhibit, temperatureCoefficient: value } },
      };
    },
    // Cores soften by about half a percent a kelvin; drives that fall with them are common practice (no source).
    range: () => [-0.008, 0],
    ratio: false,
    step: () => 1e-4,
    tolerance: () => 0,
  },
  {
    label: 'Bandwidth of the amplifier',
    fields: ['/amplifier/bandwidth'],
    unit: 'Hz',
    read: (d) => d.amplifier.bandwidth,
    write: (d, value) => ({ ...d, amplifier: { ...d.amplifier, bandwidth: value } }),
    range: (d) => {
      const centre = Number.isFinite(d.amplifier.bandwidth) ? d.amplifier.bandwidth : 1e8;
      return [centre / 20, centre * 10];
    },
    ratio: true,
    step: (d) => 0.02 * d.amplifier.bandwidth,
    tolerance: () => 0,
  },
  {
    label: 'Terminations at both ends',
    fields: ['/terminations/a', '/terminations/b'],
    unit: 'ohm',
    read: (d) => d.terminations.a,
    write: (d, value) => ({ ...d, terminations: { ...d.terminations, a: value, b: value } }),
    range: (d) => {
      const r = d.terminations.a;
      const centre = Number.isFinite(r) && r > 0 ? r : 200;
      return [centre / 10, centre * 10];
    },
    ratio: true,
    step: (d) => 0.02 * d.terminations.a,
    tolerance: (d) => d.tolerances.termination * d.terminations.a,
  },
  {
    label: 'Temperature',
    fields: ['/temperature'],
    unit: '°C',
    read: (d) => d.temperature,
    write: (d, value) => ({ ...d, temperature: value }),
    range: (d) => [d.temperature, d.temperature],
    ratio: false,
    step: () => 1,
    tolerance: (d) => d.tolerances.temperature,
  },
  {
    label: 'Thresholds of the cores',
    fields: ['/core/parameters/coerciveDrive', '/core/parameters/dynamicThreshold'],
    unit: 'A',
    read: (d) => d.core.parameters.coerciveDrive,
    write: (d, value) => {
      const { parameters } = d.core;
      const factor = value / parameters.coerciveDrive;
      return {
        ...d,
        core: {
          ...d.core,
          parameters: {
            ...parameters,
            coerciveDrive: value,
            dynamicThreshold: parameters.dynamicThreshold * factor,
            decayThreshold: parameters.decayThreshold * factor,
          },
        },
      };
    },
    range: (d) => [d.core.parameters.coerciveDrive, d.core.parameters.coerciveDrive],
    ratio: false,
    step: (d) => 0.005 * d.core.parameters.coerciveDrive,
    tolerance: (d) => d.tolerances.coreThreshold * d.core.parameters.coerciveDrive,
  },
  {
    label: 'Flux of the cores',
    fields: ['/core/parameters/remanentFlux'],
    unit: 'Wb',
    read: (d) => d.core.parameters.remanentFlux,
    write: (d, value) => ({
      ...d,
      core: { ...d.core, parameters: { ...d.core.parameters, remanentFlux: value } },
    }),
    range: (d) => [d.core.parameters.remanentFlux, d.core.parameters.remanentFlux],
    ratio: false,
    step: (d) => 0.01 * d.core.parameters.remanentFlux,
    tolerance: (d) => d.tolerances.coreFlux * d.core.parameters.remanentFlux,
  },
];
