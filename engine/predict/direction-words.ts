import { UNKNOWNS, type UnknownName } from '../fitting/unknown-table.ts';
import type { Direction } from './direction.ts';

/** What no parameter of the model can give. */
export const MODEL_ITSELF = 'what the model itself does not give';

const FIELDS: Readonly<Record<string, string>> = {
  '/wire/resistancePerCore': 'resistance of the sense wire',
  '/wire/inductancePerCore': 'inductance of the sense wire',
  '/wire/capacitancePerCore': 'capacitance of the sense wire',
  '/wire/lossTime': 'loss of the ferrite in the wire',
  '/wire/mutualX': 'air coupling of X',
  '/wire/mutualY': 'air coupling of Y',
  '/wire/couplingCapacitance': 'capacitance of a line to the wire',
  '/drive/x/rise': 'rise of X',
  '/drive/y/rise': 'rise of Y',
};

const CORE: Readonly<Record<string, string>> = {
  remanentFlux: 'flux of the core',
  squareness: 'squareness of the core',
  coerciveDrive: 'static threshold of the core',
  staticKneeWidth: 'width of the static knee',
  dynamicThreshold: 'dynamic threshold of the core',
  dynamicKneeWidth: 'width of the dynamic knee',
  switchingResistance: 'switching resistance of the core',
  ringSpread: 'spread of the core’s rings',
  elasticSaturated: 'elastic slope when saturated',
  elasticKnee: 'elastic slope toward the knee',
  elasticBend: 'bend of the elastic part',
  decayResistance: 'decaying part of the core',
  decayCharge: 'time of the decaying part',
  decayThreshold: 'threshold of the decaying part',
  driveTemperatureCoefficient: 'how thresholds go with temperature',
  fluxFactor: 'flux of this core beside the others',
  thresholdFactor: 'threshold of this core beside the others',
  fluxTemperatureCoefficient: 'how flux goes with temperature',
};

/** A direction in words. */
export const nameOf = ({ kind, name }: Pick<Direction, 'kind' | 'name'>): string =>
  kind === 'fitted'
    ? UNKNOWNS[name as UnknownName].meaning
    : (FIELDS[name] ?? CORE[name] ?? name.replace(/^\//u, '').replaceAll('/', ' '));
