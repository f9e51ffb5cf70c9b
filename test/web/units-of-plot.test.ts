import { describe, expect, it } from 'vitest';
import type { Column, Picture } from '../../web/sharing/chart-data.ts';
import { inUnitsOfPlot } from '../../web/sharing/units-of-plot.ts';

/** A plot whose axes have these units. */
const plot = (...units: readonly string[]): Picture => ({
  svg: { querySelectorAll: () => units.map((unit) => ({ dataset: { unit } })) } as unknown as SVGSVGElement,
});

describe('a table beside a plot', () => {
  const columns: readonly Column[] = [
    { title: 'time / s', values: Float64Array.from([0, 137e-9]) },
    { title: 'least ONE / V', values: Float64Array.from([0, 35.6e-3]) },
    { title: 'case', values: ['a', 'b'] },
    { title: 'of parts', values: [0.5, 1] },
  ];

  it('has its figures in the units of the axes, so that they are found on the plot', () => {
    const [time, one] = inUnitsOfPlot({ columns, pictures: [plot('ns', 'mV')] });
    expect([time!.title, one!.title]).toEqual(['time / ns', 'least ONE / mV']);
    expect(time!.values[1]).toBeCloseTo(137, 9);
    expect(one!.values[1]).toBeCloseTo(35.6, 9);
    const [late] = inUnitsOfPlot({ columns, pictures: [plot('µs', 'mV')] });
    expect(late!.title).toBe('time / µs');
    expect(late!.values[1]).toBeCloseTo(0.137, 12);
  });

  it('takes a prefix of its own where the plot has no such axis, one for all columns of the unit', () => {
    const volts: readonly Column[] = [
      { title: 'small / V', values: [2e-6] },
      { title: 'large / V', values: [0.02] },
    ];
    const told = inUnitsOfPlot({ columns: volts, pictures: [] });
    expect(told.map(({ title }) => title)).toEqual(['small / mV', 'large / mV']);
    expect(told[0]!.values[0]).toBeCloseTo(0.002, 12);
  });

  it('leaves words and what has no unit as they are', () => {
    const [, , words, shares] = inUnitsOfPlot({ columns, pictures: [plot('ns', 'mV')] });
    expect(words).toEqual({ title: 'case', values: ['a', 'b'] });
    expect(shares).toBe(columns[3]);
  });
});
