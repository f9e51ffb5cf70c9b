/**
 * Wire values from geometry against published tables, against Neumann's integral and a distribution of charge found
 * by numerical means, and against limits that can be derived.
 */
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../engine/check/check-design.ts';
import { MU_0 } from '../../engine/core/geometry.ts';
import {
  crossingCapacitance,
  pairCapacitancePerMetre,
  pairInductancePerMetre,
  parallelMutual,
  potentialBeside,
  resistancePerMetre,
  resistivityOf,
} from '../../engine/core/straight-wires.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Winding } from '../../engine/design/mat.ts';
import { lineResistance, senseResistance } from '../../engine/mat/wire-at-temperature.ts';
import { passesRight, wireCourse } from '../../engine/mat/wire-course.ts';
import { wireSources } from '../../engine/mat/wire-sources.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { relative } from './core-helpers.ts';

const KINDS = ['shared-one-run', 'shared-two-halves', 'separate-diagonal', 'separate-rectangular'] as const;

describe('resistance', () => {
  // T. L. Floyd, Electric Circuit Fundamentals, 2nd ed., table of American wire gauges: circular mils, ohm/1000 ft, 20 °C.
  it.each([
    [24, 404.01, 25.67],
    [30, 100.5, 103.2],
    [36, 25, 414.8],
    [38, 15.72, 659.6],
    [40, 9.89, 1049],
  ])('copper wire of gauge %d has the resistance of the table within 0.1 %%', (_, circularMils, ohms) => {
    const diameter = Math.sqrt(circularMils) * 25.4e-6;
    expect(relative(resistancePerMetre('copper', diameter, 20) * 304.8, ohms)).toBeLessThan(1e-3);
  });

  // CRC Handbook of Chemistry and Physics, resistivity of pure metals used for its wire tables, 1e-8 ohm m.
  it.each([
    ['copper', [1.543, 1.678, 1.712, 2.22]],
    ['aluminium', [2.417, 2.65, 2.709, 3.56]],
    ['silver', [1.467, 1.587, 1.617, 2.07]],
  ] as const)('%s follows the temperature as the pure metal does, within 2 %%', (conductor, table) => {
    [0, 20, 25, 100].forEach((temperature, i) => {
      const ratio = resistivityOf(conductor, temperature) / resistivityOf(conductor, 20);
      expect(relative(ratio, table[i]! / table[1]), `${temperature} °C`).toBeLessThan(0.02);
    });
  });

  it('of sense wire and lines follows the temperature whether it was stated or worked out', () => {
    for (const given of [
      {},
      { wire: { resistancePerCore: '1 ohm' }, drive: { x: { resistance: '2 ohm' } } },
    ]) {
      const [cold, hot] = ['25 degC', '85 degC'].map((temperature) =>
        checkDesign({ ...SMALL, ...given, temperature }),
      );
      // Derived from 0.393 % a kelvin at 20 °C: 1.25545/1.01965.
      expect(relative(senseResistance(hot!) / senseResistance(cold!), 1.23126)).toBeLessThan(1e-4);
      expect(relative(lineResistance(hot!, 'x') / lineResistance(cold!, 'x'), 1.23126)).toBeLessThan(1e-4);
      expect(cold!.wire.resistancePerCore).toBe(senseResistance(cold!));
    }
  });
});

describe('inductance', () => {
  const simpson = (f: (x: number) => number, a: number, b: number): number => {
    const n = 400;
    const h = (b - a) / n;
    let sum = f(a) + f(b);
    for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f(a + k * h);
    return (sum * h) / 3;
  };

  it.each([
    [0, 0.02, 0, 0.02, 1e-3],
    [0, 0.02, 0.01, 0.05, 2e-3],
    [0, 0.01, 0.03, 0.04, 5e-4],
  ])('of filaments %f..%f and %f..%f, %f m apart, is Neumann’s double integral', (a0, a1, b0, b1, d) => {
    const integral = simpson((x) => simpson((y) => 1 / Math.hypot(x - y, d), b0, b1), a0, a1);
    expect(relative(parallelMutual(a0, a1, b0, b1, d), (MU_0 / (4 * Math.PI)) * integral)).toBeLessThan(1e-4);
    const along = simpson((y) => potentialBeside(y, a0, a1, d), b0, b1);
    expect(relative(parallelMutual(a0, a1, b0, b1, d), along)).toBeLessThan(1e-6);
  });

  it('of a pair with its capacitance gives waves the speed of light', () => {
    // Derived: L C = 1/c² for the field outside the wires; the quarter is the field inside.
    const [radius, apart] = [0.05e-3, 20e-3];
    const outside = 2 * (pairInductancePerMetre(radius, apart) - MU_0 / (8 * Math.PI));
    expect(
      relative(1 / Math.sqrt(outside * pairCapacitancePerMetre(radius, apart)), 299_792_458),
    ).toBeLessThan(1e-4);
  });

  it('of many runs to and fro tends to that of endless ones', () => {
    // Derived (Wallis's product): mu_0/(2 pi) (ln(2 p/(pi r)) + 1/4) a metre; ends of runs take some per cent.
    const { mat, wire } = board('shared-one-run', 64);
    const endless = pairInductancePerMetre(wire.bareDiameter / 2, (2 * mat.pitch) / Math.PI) * mat.pitch;
    expect(relative(wire.inductancePerCore, endless)).toBeLessThan(0.03);
  });

  it('of a winding with its X line is what the two have as straight wires, with neighbours to and fro', () => {
    // Derived the same way: mu_0/(2 pi) ln(2 p/(pi s)) a metre in the middle of a mat; edges move the mean.
    const { mat, wire } = board('shared-two-halves', 64);
    const endless =
      (MU_0 / (2 * Math.PI)) * Math.log((2 * mat.pitch) / (Math.PI * wire.distance)) * mat.pitch;
    expect(relative(wire.mutualX, endless)).toBeLessThan(0.1);
    expect(Math.abs(wire.mutualY)).toBeLessThan(0.05 * wire.mutualX);
  });
});

describe('capacitance of two wires that cross', () => {
  /** Charges on short pieces of both wires that hold one at 1 V and the other at 0: F by the method of moments. */
  function moments(length: number, radius: number, apart: number, angle: number): number {
    const n = 80;
    const h = length / n;
    const place = (wire: number, k: number): [number, number, number] => {
      const t = (k + 0.5) * h - length / 2;
      return wire === 0 ? [t, 0, 0] : [t * Math.cos(angle), t * Math.sin(angle), apart];
    };
    const potential = Matrix.zeros(2 * n, 2 * n);
    for (let i = 0; i < 2 * n; i++)
      for (let j = 0; j < 2 * n; j++) {
        const [a, b] = [place(Math.floor(i / n), i % n), place(Math.floor(j / n), j % n)];
        const along = Math.hypot(a[0] - b[0], a[1] - b[1]);
        const ends = Math.asinh((along + h / 2) / radius) - Math.asinh((along - h / 2) / radius);
        const same = Math.floor(i / n) === Math.floor(j / n);
        const mean = same ? ends / h : 1 / Math.hypot(along, a[2] - b[2]);
        potential.set(i, j, mean / (4 * Math.PI * 8.8541878e-12));
      }
    const volts = Matrix.columnVector(Array.from({ length: 2 * n }, (_, i) => (i < n ? 1 : 0)));
    const charge = solve(potential, volts).to1DArray();
    return -charge.slice(n).reduce((sum, q) => sum + q, 0);
  }

  it.each([
    [0.8e-3, 0.035e-3, 0.15e-3, Math.PI / 2],
    [0.8e-3, 0.035e-3, 0.15e-3, Math.PI / 4],
    [2e-3, 0.05e-3, 0.3e-3, Math.PI / 2],
  ])(
    'of %f m, radius %f m, %f m apart at %f rad is that of charges free to move, within 10 %%',
    (l, r, d, angle) => {
      expect(relative(crossingCapacitance(l, r, d, angle), moments(l, r, d, angle))).toBeLessThan(0.1);
    },
  );
});

describe('the course of the wire', () => {
  it.each(KINDS)('of the winding %s passes every core with its polarity', (kind) => {
    for (const [rows, columns] of [
      [2, 2],
      [4, 4],
      [6, 10],
      [8, 2],
      [10, 6],
      [16, 16],
      [64, 32],
    ] as const) {
      const course = wireCourse({ rows, columns }, { kind, segments: 1 });
      const wrong = course.passages.filter((_, at) => !passesRight(course, columns, at));
      expect(wrong, `${rows} x ${columns}`).toEqual([]);
    }
  });

  it('says where a winding of one’s own cannot be threaded as its polarity asks', () => {
    const own: Winding = {
      kind: 'custom',
      segments: 1,
      order: [0, 1, 3, 2],
      polarity: [
        [1, -1],
        [1, 1],
      ],
    };
    const course = wireCourse({ rows: 2, columns: 2 }, own);
    expect(course.passages.filter((_, at) => !passesRight(course, 2, at))).toHaveLength(1);
  });
});

describe('a design', () => {
  it('that gives nothing about wires has them from its geometry, and says so', () => {
    const design = checkDesign(SMALL);
    const from = Object.fromEntries(wireSources(design).map((source) => [source.field, source.from]));
    expect(from['/wire/mutualX']).toBe('geometry');
    expect(from['/drive/y/inductance']).toBe('geometry');
    expect(from['/wire/diameter']).toBe('default');
    expect(from['/mat/pitch']).toBe('given');
    for (const { value, range } of wireSources(design))
      if (range) expect(range.low <= value && value <= range.high).toBe(true);
  });

  it('keeps what it gives, and only that, when it is written and read again', () => {
    const design = checkDesign({
      ...SMALL,
      wire: { mutualX: '1 nH', diameter: '0.1 mm' },
      drive: { x: { inductance: '300 nH' } },
    });
    expect(design.wire.mutualX).toBe(1e-9);
    expect(design.drive.x.inductance).toBe(3e-7);
    const file = designToJson(design) as { wire: object; drive: { x: object; y: object } };
    expect(Object.keys(file.wire)).toContain('mutualX');
    expect(Object.keys(file.wire)).not.toContain('mutualY');
    expect(Object.keys(file.drive.y)).not.toContain('inductance');
    expect(checkDesign(file)).toEqual(design);
  });

  it('has lines whose resistance and inductance grow with the mat and the number of mats', () => {
    const [one, twelve] = [1, 12].map((mats) =>
      checkDesign({ mat: { rows: 16, columns: 16, mats, pitch: '0.8 mm' } }),
    );
    // By hand: 0.0712 mm of copper at 25 °C has 4.415 ohm/m; 12.8 mm and 100 mm of leads, or 12 x 12.8 + 11 x 6 + 100 mm.
    expect(relative(one!.drive.x.resistance, 4.415 * 0.1128)).toBeLessThan(0.01);
    expect(relative(twelve!.drive.x.resistance, 4.415 * 0.3196)).toBeLessThan(0.01);
    expect(twelve!.drive.x.inductance).toBeGreaterThan(2 * one!.drive.x.inductance);
  });

  it('whose pitch grows from 1.3 to 4 mm has another spike: direct coupling grows at least threefold', () => {
    const spike = (pitch: string): number => {
      const design = checkDesign({ ...SMALL, mat: { rows: 8, columns: 8, pitch } });
      const { contributions } = simulate(design, { until: 100e-9 });
      return Math.max(...contributions!.directCoupling.map(Math.abs));
    };
    expect(spike('4 mm') / spike('1.3 mm')).toBeGreaterThan(3);
  });

  it('is refused where a conductor is thicker than its insulation, or wires lie in each other', () => {
    const of = (wire: object) => () => checkDesign({ wire });
    expect(of({ diameter: '0.08 mm', bareDiameter: '0.1 mm' })).toThrow(
      /^wire.bareDiameter must be at most/u,
    );
    expect(of({ diameter: '0.1 mm', distance: '0.05 mm' })).toThrow(/^wire.distance must be at least/u);
  });
});

const SMALL = { mat: { rows: 4, columns: 4, pitch: '1.3 mm' }, selected: { row: 1, column: 2 } };

const board = (kind: Winding['kind'], side: number): Design =>
  checkDesign({ mat: { rows: side, columns: side, pitch: '0.8 mm' }, winding: { kind } });
