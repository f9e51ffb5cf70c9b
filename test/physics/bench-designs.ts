import { checkDesign } from '../../engine/check/check-design.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import type { SimulateOptions, Simulation } from '../../engine/solver/result.ts';

/** Designs for closed forms: all values chosen for the tests. */
export type File = Readonly<Record<string, unknown>>;

/** A core that is an inductor of `henry` and nothing else: its knee lies at 20 A, fifty times any drive here. */
export const inductor = (henry: string): File => ({
  name: 'fixed inductor',
  parameters: {
    coerciveDrive: '20 A',
    dynamicThreshold: '20 A',
    staticKneeWidth: '100 mA',
    dynamicKneeWidth: '100 mA',
    elasticSaturated: henry,
    elasticKnee: henry,
  },
});

/** A wire that carries no current to speak of: open ends, hardly any capacitance, no loss, no coupling. */
export const idleWire = {
  wire: {
    resistancePerCore: '0 ohm',
    inductancePerCore: '0.1 nH',
    capacitancePerCore: '0.1 fF',
    lossTime: '0 ns',
    mutualX: '0 H',
    mutualY: '0 H',
    couplingCapacitance: '0 F',
  },
  terminations: { a: 'open', b: '1 Mohm' },
  amplifier: { inputResistance: '100 Mohm' },
};

/** Every core of the mat taken out. */
export const noCores = (rows: number, columns: number): File => ({
  exceptions: Array.from({ length: rows * columns }, (_, i) => ({
    row: Math.floor(i / columns),
    column: i % columns,
    missing: true,
  })),
});

export const drives = (amplitude: string, rise: string, more: object = {}): File => {
  const line = { readAmplitude: amplitude, rise, fall: rise, ...more };
  return { x: line, y: line, inhibit: { rise, fall: rise } };
};

export const design = (file: File): Design => checkDesign(file);
export const run = (file: File, options: SimulateOptions = {}): Simulation =>
  simulate(checkDesign(file), { estimateError: false, ...options });

export const ns = 1e-9;
