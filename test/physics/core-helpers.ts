import { readFileSync } from 'node:fs';
import type { CoreParameters } from '../../engine/design/core.ts';

/** The published reference rows of one core, with their sources. */
export const published = JSON.parse(
  readFileSync(new URL('../../fixtures/published/core.json', import.meta.url), 'utf8'),
);

/** A core of the size of the C1 bell; every value chosen for these tests, none from a data sheet. */
export const testCore: CoreParameters = {
  remanentFlux: 2.7e-9,
  squareness: 0.9,
  coerciveDrive: 0.45,
  staticKneeWidth: 0.015,
  dynamicThreshold: 0.46,
  dynamicKneeWidth: 0.012,
  switchingResistance: 0.18,
  ringSpread: 0,
  elasticSaturated: 0.7e-9,
  elasticKnee: 0.9e-9,
  elasticBend: 0.08,
  decayResistance: 0.02,
  decayCharge: 1e-8,
  decayThreshold: 0.4,
  driveTemperatureCoefficient: -0.005,
  fluxTemperatureCoefficient: -0.001,
  outsideDiameter: 0.508e-3,
  insideDiameter: 0.3048e-3,
  height: 0.127e-3,
};

/** The same core with its main inelastic part alone. */
export const mainPartOnly: CoreParameters = {
  ...testCore,
  elasticSaturated: 0,
  elasticKnee: 0,
  decayResistance: 0,
};

/** Relative difference, for messages that show both numbers. */
export const relative = (value: number, expected: number): number => Math.abs(value / expected - 1);
