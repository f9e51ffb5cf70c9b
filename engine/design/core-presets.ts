import { UNKNOWN_MATERIAL, usualRanges, type MATERIALS } from './core-ranges.ts';
import type { CoreChoice, CoreParameters, CoreProperty, CoreTest } from './core.ts';

const FROM_MEMORY = 'M, from memory, preset only';

/** Small Mn-Mg ferrite, the core of the model's worked numbers: full drive 740 mA, half 370 mA, inhibit 340 mA. */
const twentyMil: CoreParameters = {
  remanentFlux: 2.7e-9,
  squareness: 0.92,
  coerciveDrive: 0.5,
  staticKneeWidth: 0.03,
  dynamicThreshold: 0.45,
  dynamicKneeWidth: 0.03,
  switchingResistance: 0.172,
  ringSpread: 0,
  elasticSaturated: 0.7e-9,
  elasticKnee: 1e-9,
  elasticBend: 0.2,
  decayResistance: 0,
  decayCharge: 1e-8,
  decayThreshold: 0.4,
  driveTemperatureCoefficient: -0.005,
  fluxTemperatureCoefficient: -0.002,
  outsideDiameter: 508e-6,
  insideDiameter: 304.8e-6,
  height: 127e-6,
};

/** Mn-Mg ferrite of medium size, slower: about 0.44 us at 740 mA. */
const thirtyMil: CoreParameters = {
  ...twentyMil,
  remanentFlux: 5e-9,
  switchingResistance: 0.14,
  elasticSaturated: 0.9e-9,
  elasticKnee: 1.3e-9,
  outsideDiameter: 762e-6,
  insideDiameter: 457.2e-6,
  height: 228.6e-6,
};

/** A large, slow core of the early kind, easy to thread: about 0.9 us at 800 mA. */
const fiftyMil: CoreParameters = {
  ...twentyMil,
  remanentFlux: 19e-9,
  coerciveDrive: 0.55,
  dynamicThreshold: 0.5,
  switchingResistance: 0.27,
  elasticSaturated: 2e-9,
  elasticKnee: 3e-9,
  outsideDiameter: 1.27e-3,
  insideDiameter: 762e-6,
  height: 381e-6,
};

/** Lithium ferrite: the same loop, a quarter of the temperature dependence. */
const lithium: CoreParameters = {
  ...twentyMil,
  driveTemperatureCoefficient: -0.0015,
  fluxTemperatureCoefficient: -0.0007,
};

/**
 * One real core, unknown make, by the fit of this model to its published traces: "Magnetic Core Memory Controller",
 * 7 July 2025, GitHub repository HX2003/HX2003.github.io (commit 50467ac). One turn was assumed; its hole, height and
 * temperature are not told there (0.8 and 0.4 mm and a room assumed).
 */
const measured: CoreParameters = {
  remanentFlux: 19.3e-9,
  squareness: 0.94,
  coerciveDrive: 0.347,
  staticKneeWidth: 0.005,
  dynamicThreshold: 0.389,
  dynamicKneeWidth: 0.007,
  switchingResistance: 0.67,
  ringSpread: 0.118,
  elasticSaturated: 0.3e-9,
  elasticKnee: 5e-9,
  elasticBend: 0.1,
  decayResistance: 0.0722,
  decayCharge: 0.108e-6,
  decayThreshold: 0.513,
  driveTemperatureCoefficient: UNKNOWN_MATERIAL.drive,
  fluxTemperatureCoefficient: UNKNOWN_MATERIAL.flux,
  outsideDiameter: 1.3e-3,
  insideDiameter: 0.8e-3,
  height: 0.4e-3,
};

/** What differs between fits to seven choices among its traces; a spread, no standard deviation. */
const MEASURED_BETWEEN = {
  remanentFlux: [18.5e-9, 20.6e-9],
  squareness: [0.873, 0.947],
  coerciveDrive: [0.23, 0.41],
  staticKneeWidth: [0.004, 0.046],
  dynamicThreshold: [0.364, 0.409],
  dynamicKneeWidth: [0.004, 0.011],
  switchingResistance: [0.5, 0.75],
  ringSpread: [0.091, 0.188],
  elasticSaturated: [0.01e-9, 3.2e-9],
  elasticKnee: [0.5e-9, 5.6e-9],
} as const satisfies Partial<Record<CoreProperty, readonly [number, number]>>;

function measuredCore(): CoreChoice {
  const test: CoreTest = {
    fullDrive: 0.595,
    rise: 0.3e-6,
    tolerance: 0.1,
    disturbRatio: 0.5,
    disturbs: 1024,
    disturbWidth: 1.2e-6,
  };
  const between = Object.entries(MEASURED_BETWEEN).map(
    ([name, [low, high]]) => [name, { low, high, from: 'measured' }] as const,
  );
  return {
    name: 'measured core of 1.3 mm',
    source: 'fitted to traces of HX2003/HX2003.github.io, "Magnetic Core Memory Controller" (2025)',
    parameters: measured,
    range: { ...usualRanges(measured, test, 'measured', 'unknown'), ...Object.fromEntries(between) },
    test,
  };
}

/**
 * Cores to start from, by the name that a design file gives as `core`: parameters in SI, the range of what is not known
 * of each, and where the values come from (`source`: from memory, or the published measurement). None of them may be
 * the expected value of a test.
 */
export const CORE_PRESETS = {
  'ferrite-20-mil': fromMemory('Mn-Mg ferrite', '20/12/5 mil', twentyMil, testedAt(0.74, 400e-9)),
  'lithium-20-mil': fromMemory('lithium ferrite', '20/12/5 mil', lithium, testedAt(0.74, 400e-9)),
  'ferrite-30-mil': fromMemory('Mn-Mg ferrite', '30/18/9 mil', thirtyMil, testedAt(0.74, 900e-9)),
  'ferrite-50-mil': fromMemory('Mn-Mg ferrite', '50/30/15 mil', fiftyMil, testedAt(0.8, 1.8e-6)),
  'measured-1.3-mm': measuredCore(),
} as const;

export type CorePresetName = keyof typeof CORE_PRESETS;
export const CORE_PRESET_NAMES = Object.keys(CORE_PRESETS) as [CorePresetName, ...CorePresetName[]];
export const DEFAULT_CORE_PRESET: CorePresetName = 'ferrite-20-mil';

/** A remembered core is like the one that the builder has in what a reading at full drive shows, to a tenth. */
function testedAt(fullDrive: number, disturbWidth: number): CoreTest {
  return { fullDrive, rise: 50e-9, tolerance: 0.1, disturbRatio: 0.5, disturbs: 1024, disturbWidth };
}

function fromMemory(
  material: keyof typeof MATERIALS,
  size: string,
  parameters: CoreParameters,
  test: CoreTest,
): CoreChoice {
  const range = usualRanges(parameters, test, 'preset', material);
  return { name: `${material} ${size}`, source: FROM_MEMORY, parameters, range, test };
}
