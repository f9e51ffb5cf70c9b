/**
 * Round straight wires in air, by handbook formulas. Inductances are partial: a stretch's part in a closed circuit
 * (E. B. Rosa, The self and mutual inductances of linear conductors, Bulletin of the Bureau of Standards 4, 1908,
 * p. 301); every one here follows from Neumann's integral, which the tests do numerically. Current is spread evenly
 * over the section: at the edges' frequencies the skin of fine wire is about as thick as the wire.
 */
import type { Conductor } from '../design/mat.ts';
import { MU_0 } from './geometry.ts';

/** Electric constant, F/m. */
const EPSILON_0 = 8.8541878e-12;

/** Resistivity at 20 °C, ohm m, and its temperature coefficient at 20 °C, 1/K. */
interface Material {
  readonly resistivity: number;
  readonly coefficient: number;
}

/**
 * Copper: annealed, 100 % IACS, 1/58 ohm mm²/m and 0.00393 (IEC 60028; NBS Circular 31). Commercial wire lies within
 * 97 to 101 % of that. Aluminium: 1/34.80 ohm mm²/m (60 % IACS) and 0.00403, as an industrial power handbook has it.
 * Silver: 1.587e-8 ohm m (CRC Handbook, wire tables), coefficient from its rows of 0 and 100 °C.
 */
const MATERIALS: Readonly<Record<Conductor, Material>> = {
  copper: { resistivity: 1 / 58e6, coefficient: 0.00393 },
  aluminium: { resistivity: 1 / 34.8e6, coefficient: 0.00403 },
  silver: { resistivity: 1.587e-8, coefficient: (2.07 - 1.467) / 100 / 1.587 },
};

/** ohm m at `temperature`, °C. */
export function resistivityOf(conductor: Conductor, temperature: number): number {
  const { resistivity, coefficient } = MATERIALS[conductor];
  return resistivity * (1 + coefficient * (temperature - 20));
}

/** Factor on a resistance stated at 25 °C. */
export const resistanceFactor = (conductor: Conductor, temperature: number): number =>
  resistivityOf(conductor, temperature) / resistivityOf(conductor, 25);

/** ohm per metre of a round wire of bare diameter `diameter`, m, at `temperature`, °C. */
export const resistancePerMetre = (conductor: Conductor, diameter: number, temperature: number): number =>
  resistivityOf(conductor, temperature) / ((Math.PI / 4) * diameter ** 2);

/**
 * Inductance of a straight round wire alone, H: mu_0 l/(2 pi) (ln(2 l/r) - 3/4), length l much greater than radius r
 * (both m). Derived: Neumann's integral over two filaments at the geometric mean distance r e^(-1/4) of a disc from
 * itself.
 */
export function straightWireInductance(length: number, radius: number): number {
  return ((MU_0 * length) / (2 * Math.PI)) * (Math.log((2 * length) / radius) - 0.75);
}

/** Distance at which a filament links with another as a round wire of this radius does with itself, m. */
export const ownDistance = (radius: number): number => radius * Math.exp(-0.25);

/**
 * Mutual inductance, H, of two parallel filaments: one from a0 to a1, one from b0 to b1 along the same direction, `d`
 * apart (m, > 0). Rosa's formula for any overlap: mu_0/(4 pi) (F(b1-a0) - F(b1-a1) - F(b0-a0) + F(b0-a1)) with
 * F(z) = z asinh(z/d) - sqrt(z² + d²).
 */
export function parallelMutual(a0: number, a1: number, b0: number, b1: number, d: number): number {
  const F = (z: number): number => z * Math.asinh(z / d) - Math.hypot(z, d);
  return (MU_0 / (4 * Math.PI)) * (F(b1 - a0) - F(b1 - a1) - F(b0 - a0) + F(b0 - a1));
}

/**
 * Vector potential along a straight filament, Wb/m per A, at place u along it (it runs from a to b) and `distance` m
 * beside it. Its line integral along any other wire is their mutual inductance (Neumann).
 */
export const potentialBeside = (u: number, a: number, b: number, distance: number): number =>
  (MU_0 / (4 * Math.PI)) * (Math.asinh((u - a) / distance) - Math.asinh((u - b) / distance));

/** H per metre of one wire of a pair that carries the same current there and back, `apart` m, longer than that. */
export const pairInductancePerMetre = (radius: number, apart: number): number =>
  (MU_0 / (2 * Math.PI)) * (Math.log(apart / radius) + 0.25);

/** F per metre between two parallel round wires of radius `radius`, `apart` m middle to middle: pi eps_0/acosh(apart/2r). */
export const pairCapacitancePerMetre = (radius: number, apart: number): number =>
  (Math.PI * EPSILON_0) / Math.acosh(apart / (2 * radius));

/**
 * Capacitance between two equal straight wires that cross in their middles, F, by average potentials (Howe's method,
 * as in NBS Scientific Paper 568, 1928): the charge is taken as even along each wire, its potential as the mean over
 * the wire. p = (mean of 1/distance)/(4 pi eps_0); C = p12/(p11² - p12²). About 10 % from a charge that may move.
 * @param angle between the wires, rad, more than 0
 */
export function crossingCapacitance(length: number, radius: number, apart: number, angle: number): number {
  const own =
    (2 * (length * Math.asinh(length / radius) - Math.hypot(length, radius) + radius)) / length ** 2;
  const h = length / 2;
  // t = apart sinh(x) takes out the peak at the crossing.
  const end = Math.asinh(h / apart);
  const steps = 64;
  let sum = 0;
  for (let k = 0; k < steps; k++) {
    const x = ((k + 0.5) / steps) * end;
    const t = apart * Math.sinh(x);
    const beside = Math.hypot(t * Math.sin(angle), apart);
    const u = t * Math.cos(angle);
    const potential = Math.asinh((u + h) / beside) - Math.asinh((u - h) / beside);
    sum += potential * apart * Math.cosh(x);
  }
  const between = (2 * sum * (end / steps)) / length ** 2;
  return (4 * Math.PI * EPSILON_0 * between) / (own ** 2 - between ** 2);
}
