import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
import { applyChange } from '../../../engine/advice/changes.ts';
import { RUN_LEVERS, STROBE, THRESHOLD } from '../../../engine/advice/levers.ts';
import { beyondAdvice } from '../../../engine/advice/words.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { demo } from '../../demo-design.ts';
import { measure, small } from './small-mat.ts';

const ns = 1e-9;
const mV = 1e-3;

describe('what uses the margin up', () => {
  const { costs } = advise(small, { wanted: { margin: 0, width: 0 } });
  const cost = (label: string) => costs.find((c) => c.label === label)!;

  it('is exact where it must be: a millivolt of threshold costs a ONE one and gives a ZERO one', () => {
    expect(cost('Threshold').onePerUnit).toBeCloseTo(-1, 9);
    expect(cost('Threshold').zeroPerUnit).toBeCloseTo(1, 9);
    expect(cost('Threshold').takes).toBeCloseTo(small.tolerances.threshold * small.detector.threshold, 12);
  });

  it('is the slope of the envelope for the strobe', () => {
    const { envelope, inForce } = strobeWindow(small, { cases: 'nominal' });
    const at = (t: number): number => {
      const x = (t - envelope.time[0]) / (envelope.time[1] - envelope.time[0]);
      const i = Math.floor(x);
      return envelope.one[i] + (envelope.one[i + 1] - envelope.one[i]) * (x - i);
    };
    const seen = inForce.time;
    const slope = (at(seen + 1 * ns) - at(seen - 1 * ns)) / (2 * ns);
    expect(cost('Strobe').onePerUnit / slope).toBeCloseTo(1, 6);
  });

  it('is the difference between a colder and a warmer design with every pattern run again', () => {
    const { time } = strobeWindow(small, { cases: 'nominal' }).inForce;
    const [cold, warm] = [-1, 1].map((kelvin) =>
      strobeWindow(
        { ...small, temperature: small.temperature + kelvin, strobe: { ...small.strobe, time } },
        { cases: 'nominal' },
      ),
    );
    expect(cost('Temperature').onePerUnit).toBeCloseTo((warm.margin.one - cold.margin.one) / 2, 7);
    expect(cost('Temperature').zeroPerUnit).toBeCloseTo((warm.margin.zero - cold.margin.zero) / 2, 7);
    expect(Math.abs(cost('Temperature').zeroPerUnit)).toBeGreaterThan(1e-6);
  });

  it('is ranked by what the stated tolerances take', () => {
    const takes = costs.map((c) => c.takes);
    expect(takes).toEqual([...takes].sort((a, b) => b - a));
    expect(costs.length).toBeGreaterThan(7);
  });
});

describe('what to change', () => {
  const has = measure(small);
  const wanted = { margin: has.margin + 1 * mV, width: has.width * 0.7 };
  const found = advise(small, { wanted });

  it('offers nothing when what is wanted is there', () => {
    const enough = advise(small, { wanted: { margin: has.margin - 1 * mV, width: has.width - 1 * ns } });
    expect(enough.met).toBe(true);
    expect(enough.changes).toEqual([]);
    expect(enough.has.margin).toBeCloseTo(has.margin, 12);
  });

  it('offers changes that reach it when they are made, and that are no larger than they need be', () => {
    const made = found.changes.filter((c) => typeof c.to === 'number' && typeof c.from === 'number');
    expect(found.met).toBe(false);
    expect(made.length).toBeGreaterThan(0);
    for (const { label, from, to } of made) {
      const lever = [STROBE, THRESHOLD, ...RUN_LEVERS].find((l) => l.label === label)!;
      const after = measure(lever.write(small, to as number));
      expect(after.margin).toBeGreaterThanOrEqual(wanted.margin - 1e-9);
      expect(after.width).toBeGreaterThanOrEqual(wanted.width - 1e-15);
      const half = lever.ratio
        ? Math.sqrt((from as number) * (to as number))
        : ((from as number) + (to as number)) / 2;
      const less = measure(lever.write(small, half));
      expect(less.margin >= wanted.margin && less.width >= wanted.width).toBe(false);
    }
  });

  it('makes a change by its own account: what the changed design has is what was promised', () => {
    for (const change of found.changes.filter((c) => c.to !== undefined)) {
      const after = measure(checkDesign(designToJson(applyChange(small, change))));
      expect(after.margin).toBeCloseTo(change.gives.margin, 9);
      expect(after.width).toBeCloseTo(change.gives.width, 15);
    }
    const refused = { ...found.changes[0]!, to: undefined, at: undefined };
    expect(applyChange(small, refused)).toBe(small);
  });
});

describe('a core of which nobody knows how it changes with temperature', () => {
  it('is judged at the worse end of what such cores do, which is told', () => {
    const path = new URL('../../../fixtures/cores/core-20-12-5-mil.json', import.meta.url);
    const { driveTemperatureCoefficient, fluxTemperatureCoefficient, grades, ...handbook } = JSON.parse(
      readFileSync(path, 'utf8'),
    );
    expect([driveTemperatureCoefficient, fluxTemperatureCoefficient, grades]).toBeDefined();
    const unknown = demo('single-core-jig', {
      core: { handbook },
      tolerances: { drive: 0, supply: 0, temperature: '15 K' },
    });
    const wanted = { margin: -1, width: 0 };
    const { has, heat, met, sets, unjudged, limits } = advise(unknown, { wanted });
    const at = (property: string, value: number): number => {
      const parameters = { ...unknown.core.parameters, [property]: value };
      const known = { ...unknown, core: { ...unknown.core, parameters } };
      return strobeWindow(known, { cases: 'corners' }).verdict.sets.corners!.margin;
    };
    const ends = (['driveTemperatureCoefficient', 'fluxTemperatureCoefficient'] as const).flatMap(
      (property) =>
        [unknown.core.range[property].low, unknown.core.range[property].high].map((value) =>
          at(property, value),
        ),
    );
    expect(Math.min(...ends)).toBeLessThan(at('height', unknown.core.parameters.height) - 0.1 * mV);
    expect(has.margin).toBeCloseTo(Math.min(...ends), 9);
    expect(met).toBe(true);
    expect(beyondAdvice({ sets, unjudged, heat, limits })).toContain(
      'Nothing is known of how the core changes',
    );
  });
});
