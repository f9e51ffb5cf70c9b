import { checkDesign } from '../../../engine/check/check-design.ts';
import { polarityOfThreading } from '../../../engine/mat/threading.ts';
import { polarityOf, threadingOrder } from '../../../engine/mat/winding.ts';
import { buildPack, packFiles, packJson } from '../../../engine/pack/build-pack.ts';
import type { BuildPack } from '../../../engine/pack/pack.ts';
import { nearestE96, nearestGauge } from '../../../engine/pack/part-values.ts';
import { threadingOf } from '../../../engine/pack/threading.ts';
import type { ThreadedWire } from '../../../engine/pack/threading-result.ts';
import { timingOf } from '../../../engine/pack/timing.ts';
import { readValueChanges, writeValueChanges } from '../../../engine/pack/value-change.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import { demo } from '../../demo-design.ts';
import { beforeAll, describe, expect, it } from 'vitest';

const KINDS = ['shared-one-run', 'shared-two-halves', 'separate-diagonal', 'separate-rectangular'] as const;

const wire = (wires: readonly ThreadedWire[], name: string): ThreadedWire => {
  const found = wires.find((w) => w.name === name);
  if (found === undefined) throw new Error(`There is no wire ${name}.`);
  return found;
};

describe('the threading sheet', () => {
  it.each(KINDS)('of the winding %s has the order and the polarity that the model runs with', (kind) => {
    const design = checkDesign({ mat: { rows: 6, columns: 8, mats: 2 }, winding: { kind } });
    const { wires, cores } = threadingOf(design);
    const sense = wires.filter((w) => w.kind === 'sense').flatMap((w) => w.cores);
    expect(sense.map((c) => c.row * 8 + c.column)).toEqual([...threadingOrder(design.mat, design.winding)]);
    expect(cores.map((c) => c.polarity)).toEqual([...polarityOf(design.mat, design.winding)]);
    expect(cores.every((core) => sense[core.place - 1]!.row === core.row)).toBe(true);
    // The sign of a ONE follows from the sheet alone: write current passes the hole one way, the sense wire with or against it.
    for (const core of cores) {
      const { way } = sense[core.place - 1]!;
      expect(Math.sign(way.x * core.hole.x + way.y * core.hole.y), `${core.row}, ${core.column}`).toBe(
        core.polarity,
      );
      expect(core.straight).toBe(true);
    }
  });

  it.each(['shared-one-run', 'shared-two-halves', 'separate-rectangular'] as const)(
    'of %s, read back as the mat lies on the table, has the polarity of the winding',
    (kind) => {
      const design = checkDesign({ mat: { rows: 6, columns: 8 }, winding: { kind } });
      const { wires, cores } = threadingOf(design);
      const grid = (letter: (row: number, column: number) => string): string[] =>
        Array.from({ length: 6 }, (_, r) => Array.from({ length: 8 }, (__, c) => letter(r, c)).join(''));
      const passed = wires.filter((w) => w.kind === 'sense').flatMap((w) => w.cores);
      const back = polarityOfThreading({
        lean: grid((r, c) => cores[r * 8 + c]!.lean),
        x: Array.from({ length: 6 }, (_, r) => wire(wires, `X${r}`).cores[0]!.way.x),
        y: Array.from({ length: 8 }, (_, c) => wire(wires, `Y${c}`).cores[0]!.way.y),
        wire: grid((r, c) => {
          const { way } = passed.find((p) => p.row === r && p.column === c)!;
          return way.x > 0 ? '>' : way.x < 0 ? '<' : way.y > 0 ? 'v' : '^';
        }),
      });
      expect(back.opposed).toBeUndefined();
      expect(back.polarity.flat()).toEqual([...polarityOf(design.mat, design.winding)]);
    },
  );

  it.each(['separate-diagonal', 'separate-rectangular'] as const)(
    'of %s sends the inhibit against the write current of X at every core',
    (kind) => {
      const { wires } = threadingOf(checkDesign({ mat: { rows: 4, columns: 6 }, winding: { kind } }));
      const inhibit = wire(wires, 'inhibit');
      expect(new Set(inhibit.cores.map((c) => c.row * 6 + c.column)).size).toBe(24);
      for (const { row, way } of inhibit.cores) expect(way.x).toBe(-wire(wires, `X${row}`).cores[0]!.way.x);
    },
  );

  it('lets each drive line pass the cores of its row or column in the way of its write current', () => {
    const { wires } = threadingOf(checkDesign({ mat: { rows: 4, columns: 6 } }));
    expect(wire(wires, 'X1').cores.map((c) => c.column)).toEqual([5, 4, 3, 2, 1, 0]);
    expect(wire(wires, 'Y2').cores.map((c) => c.row)).toEqual([0, 1, 2, 3]);
    expect(wires.filter((w) => w.kind === 'y')).toHaveLength(6);
  });
});

/**
 * A reader of value change dumps of its own, by the syntax of IEEE Std 1364-2005, clause 18.2: declaration commands in
 * any order up to $enddefinitions, then simulation times and scalar changes; comments anywhere.
 */
function dumpByTheStandard(text: string): { level: (signal: string, at: number) => string; end: number } {
  const words = text.split(/\s+/u).filter((word) => word !== '');
  const scopes: string[] = [];
  const codes = new Map<string, string>();
  const levels = new Map<string, { at: number; level: string }[]>();
  let [tick, now, open] = [NaN, 0, true];
  while (words.length > 0) {
    const word = words.shift()!;
    if (['$dumpvars', '$dumpall', '$dumpon', '$dumpoff', '$end'].includes(word)) continue;
    if (word.startsWith('$')) {
      const held = words.splice(0, words.indexOf('$end') + 1).slice(0, -1);
      if (word === '$scope') scopes.push(held[1]!);
      if (word === '$upscope') scopes.pop();
      if (word === '$var') codes.set(held[2]!, [...scopes, held[3]!].join('.'));
      if (word === '$enddefinitions') open = false;
      if (word === '$timescale') {
        const [, count, unit] = /^(1|10|100)(s|ms|us|ns|ps|fs)$/u.exec(held.join(''))!;
        tick = Number(count) * 10 ** (-3 * ['s', 'ms', 'us', 'ns', 'ps', 'fs'].indexOf(unit!));
      }
      continue;
    }
    expect(open, `${word} before $enddefinitions`).toBe(false);
    if (word.startsWith('#')) {
      now = Number(word.slice(1)) * tick;
      continue;
    }
    const [, level, code] = /^([01xzXZ])(\S+)$/u.exec(word)!;
    const name = codes.get(code!);
    expect(name, `code ${code}`).toBeDefined();
    levels.set(name!, [...(levels.get(name!) ?? []), { at: now, level: level! }]);
  }
  return { level: (name, at) => levels.get(name)!.findLast((change) => change.at <= at)!.level, end: now };
}

describe('the value-change file', () => {
  const design = checkDesign({ cycle: { stagger: '20 ns', postWriteDisturb: true, period: '5 us' } });
  const timing = timingOf(design, { time: 123.4e-9, interval: undefined });

  it('gives every edge of the timing sheet back when it is read, to the picosecond', () => {
    const read = readValueChanges(writeValueChanges(timing, design.name));
    for (const n of [0, 1])
      for (const edge of timing.edges) {
        if (edge.signal === 'inhibit' && n === 0) continue;
        const at = n * timing.period + edge.start;
        const level = edge.edge === 'on' ? 1 : 0;
        const there = read.changes.some(
          (c) => c.signal === edge.signal && c.level === level && Math.abs(c.at - at) < 0.6e-12,
        );
        // The latch of the first cycle is let go where the second begins.
        expect(there, `${edge.signal} ${edge.edge} in cycle ${n}`).toBe(true);
      }
    expect(read.end).toBeCloseTo(2 * timing.period, 15);
    expect(read.changes.filter((c) => c.signal === 'inhibit' && c.level === 1)).toHaveLength(1);
  });

  it('read by the standard alone has each driver on while its current is on, and off in between', () => {
    const { level, end } = dumpByTheStandard(writeValueChanges(timing, design.name));
    expect(end).toBeCloseTo(2 * timing.period, 15);
    // By the cycle's own numbers: read from 0, write a gap after it, Y 20 ns later.
    const { readWidth, gap, writeWidth, stagger, period } = design.cycle;
    const write = readWidth + gap;
    for (const n of [0, 1])
      for (const [signal, on, off] of [
        ['x_read', 0, readWidth],
        ['y_read', stagger, stagger + readWidth],
        ['x_write', write, write + writeWidth],
        ['y_write', write + stagger, write + stagger + writeWidth],
      ] as const) {
        const at = (time: number): string => level(`cycle.${signal}`, n * period + time);
        expect([at(on + 1e-9), at(off - 1e-9)], `${signal}, cycle ${n}`).toEqual(['1', '1']);
        expect([at(off + 1e-9), n === 0 && on === 0 ? '0' : at(on - 1e-9)], `${signal}, cycle ${n}`).toEqual([
          '0',
          '0',
        ]);
      }
    const inWrite = write + writeWidth / 2;
    expect([0, 1].map((n) => level('cycle.inhibit', n * period + inWrite))).toEqual(['0', '1']);
    expect([0, 1].map((n) => level('cycle.strobe', n * period + 123.4e-9 + 1e-12))).toEqual(['1', '1']);
  });

  it('has the parts that IEEE 1364 asks for, in ASCII, with times that never go back', () => {
    const text = writeValueChanges(timing, 'Übung $end 8×8');
    expect(text).toMatch(/^[\x20-\x7e\n]*$/u);
    expect(text).toMatch(
      /\$timescale 1 ps \$end[\s\S]*\$scope module cycle \$end[\s\S]*\$upscope \$end\n\$enddefinitions \$end\n#0\n\$dumpvars/u,
    );
    const times = [...text.matchAll(/^#(\d+)$/gmu)].map((m) => Number(m[1]));
    expect(times).toEqual([...new Set(times)].sort((a, b) => a - b));
  });

  it('is refused in a sentence where it is something else', () => {
    expect(() => readValueChanges('x')).toThrow('must have a $timescale');
  });
});

describe('8 x 8, by hand', () => {
  // Proposed from needs: 30-mil cores 1.6 diameters apart, 0.1 mm of copper in two halves, four mats; reads at its corners.
  let pack: BuildPack;
  beforeAll(() => {
    pack = buildPack(demo('bell-pattern-8x8'), { simulate });
  }, 120_000);

  it('has wires of the lengths and resistances that a ruler and a table give', () => {
    const { wires } = pack.threading;
    // X: 32 x 1.2192 mm, three steps of 6 mm between mats, 100 mm of leads: 157.01 mm; a tenth more and 120 mm for ends.
    expect(wire(wires, 'X0').cut).toBeCloseTo(0.29272, 5);
    // 0.1 mm of copper at 25 °C: 0.017580 ohm mm²/m over 0.007854 mm²: 2.2384 ohm/m.
    expect(wire(wires, 'X0').resistance).toBeCloseTo(2.2384 * 0.15701, 4);
    // Each half: 24 steps along rows, six from row to row and one across the middle, aslant; seven steps back to the joint
    // and half a pitch at either end are shared: 35.414 of 1.2192 mm.
    const half = wire(wires, 'sense and inhibit, half A');
    expect(half.length).toBeCloseTo(1.2192e-3 * (30 + Math.SQRT2 + 4), 9);
    expect(half.cut).toBeCloseTo(0.16749, 5);
    expect(half.resistance).toBeCloseTo(2.2384 * 0.163177, 4);
    expect(half.accept.low).toBeLessThan(half.resistance);
    expect([half.count, half.cores.length]).toEqual([4, 32]);
  });

  it('has edges where the cycle puts them', () => {
    // Rise 25 ns: half amplitude at 12.5 ns; Y 120 ns later; 905 ns pulses 195 ns apart; inhibit 25 ns before and after.
    const at = Object.fromEntries(pack.timing.edges.map((e) => [`${e.signal} ${e.edge}`, e.half * 1e9]));
    expect(at['x_read on']).toBeCloseTo(12.5, 9);
    expect(at['y_read off']).toBeCloseTo(1037.5, 9);
    expect(at['x_write on']).toBeCloseTo(1112.5, 9);
    expect(at['inhibit on']).toBeCloseTo(1087.5, 9);
    expect(at['inhibit off']).toBeCloseTo(2162.5, 9);
    const x = pack.timing.edges.find((e) => e.signal === 'x_write' && e.edge === 'on')!;
    // Edges known to 5 %, three sigma of 25 ns, of which half moves the middle.
    expect(x.tolerance * 1e9).toBeCloseTo((0.15 * 25) / 2, 6);
  });

  it('lists what there has to be', () => {
    const counts = Object.fromEntries(pack.parts.map((part) => [part.what, part.count]));
    expect(counts.cores).toBe(256 + 13);
    expect(counts['drivers of X, both ways']).toBe(8);
    expect(counts['drivers of inhibit']).toBe(8);
    expect(counts['clamps of Y']).toBe(16);
    // 24 V over 339 mA less 0.351 ohm of line: 70.45 ohm, 69.8 in the series of 1 %.
    expect(pack.parts.find((p) => p.what === 'series resistors of X')!.value).toContain('69.8 Ω, 1 %');
    // Two lines of 339 mA for 905 ns, twice; eight halves of inhibit, 339 mA for 1075 ns; 1 uC besides: 5.143 uC; over 0.24 V.
    expect(pack.parts.find((p) => p.what === 'reservoir')!.value).toContain('21.4 µF');
  });

  it('plans the first power-up from the look to the rate, each step with what to expect and when to stop', () => {
    expect(pack.plan[0]!.title).toBe('Look');
    expect(pack.plan.at(-1)!.title).toBe('Rate');
    expect(pack.plan.map((s) => s.title)).toEqual(
      expect.arrayContaining(['Supply alone', 'Magnet', 'March']),
    );
    for (const step of pack.plan)
      expect(step.act.length * step.expect.length * step.stop.length).toBeGreaterThan(0);
  });

  it('expects a bell where a ONE is read and none with a magnet at its core, inside its own bands', () => {
    const { read, zero, magnet } = pack.traces;
    const at = read.time.findIndex((t) => t >= pack.timing.strobe);
    expect(read.nominal[at]!).toBeGreaterThan(5 * Math.abs(zero.nominal[at]!));
    expect(Math.abs(magnet.nominal[at]!)).toBeLessThan(read.nominal[at]! / 5);
    for (const trace of [read, zero, magnet])
      trace.nominal.forEach((v, i) => expect(v >= trace.low[i]! && v <= trace.high[i]!).toBe(true));
  });

  it('is one document with nothing from elsewhere, and files that hold the same', () => {
    const files = packFiles(pack);
    const html = files['pack.html']!;
    expect(pack.window.verdict.design).toBe('reads');
    expect(html).not.toContain('Change the design before you build it');
    expect(html).not.toMatch(/src=|href="(?!data:)|@import|url\((?!#)|<script(?! type="application\/json")/u);
    const inside = [...html.matchAll(/<a download="([^"]+)" href="data:[a-z/]+;charset=utf-8,([^"]*)"/gu)];
    const text = (held: string): string => decodeURIComponent(held.replaceAll('&#39;', "'"));
    expect({
      'pack.html': html,
      ...Object.fromEntries(inside.map(([, name, held]) => [name!, text(held!)])),
    }).toEqual(files);
    for (const words of [
      '1 Threading',
      '2 Timing',
      '3 Parts',
      '4 One core first',
      '5 Stages of the build',
      '6 First power-up',
      '7 What this rests on',
      '50 mm',
      'Mains',
    ])
      expect(html).toContain(words);
    // The ledger is told in units and digits that mean something.
    const told = html.slice(html.indexOf('7 What this rests on'), html.indexOf('Files of this pack'));
    expect(told).not.toMatch(/\d\.\d{5,}|\de-\d|>\/\w/u);
    expect(checkDesign(JSON.parse(files['design.json']!))).toEqual(pack.design);
    expect(files['timing.csv']!.split('\n')).toHaveLength(pack.timing.edges.length + 2);
    expect(readValueChanges(files['timing.vcd']!).signals).toContain('strobe');
    expect(Object.keys(JSON.parse(packJson(pack)).files)).toEqual(Object.keys(files));
    expect(checkDesign(JSON.parse(files['stage-1-rig.json']!))).toEqual(pack.stages[0]!.design);
    expect(html).toContain('With shorter leads, 100 mm in place of 300 mm, direct coupling');
  });
});

describe('16 x 16 x 12', () => {
  // The tide recorder as proposed from needs: 20-mil cores 0.8 mm apart, two halves, drives that follow the temperature.
  const design = demo('tide-recorder-16x16');
  let pack: BuildPack;
  beforeAll(() => {
    pack = buildPack(design, { simulate });
  }, 120_000);

  it('is of a design that reads at its corners, and says nothing against building it', () => {
    const { verdict } = pack.window;
    expect(verdict).toMatchObject({ design: 'reads', limits: [] });
    expect(verdict.sets.corners!.verdict).toBe('reads');
    expect(packFiles(pack)['pack.html']).not.toContain('Change the design before you build it');
  });

  it('has lines through all mats, two halves a mat, and their lengths by a ruler', () => {
    const { wires, cores } = pack.threading;
    expect(wires).toHaveLength(34);
    expect(cores).toHaveLength(256);
    // 12 mats of 16 x 0.8 mm, 11 steps of 6 mm, 100 mm of leads: 319.6 mm.
    expect(wire(wires, 'X3').length).toBeCloseTo(0.3196, 6);
    // Each half: seven steps in each of 16 rows, fourteen from row to row and one across the middle, aslant; 15 steps back
    // to the joint and half a pitch at either end are shared: 135.414 of 0.8 mm.
    const halves = ['A', 'B'].map((half) => wire(wires, `sense and inhibit, half ${half}`));
    expect(halves.map(({ count, cores: passed }) => [count, passed.length])).toEqual([
      [12, 128],
      [12, 128],
    ]);
    for (const { length } of halves) expect(length).toBeCloseTo(0.8e-3 * (112 + 14 + Math.SQRT2 + 8), 9);
    // An even number of mats brings the line back to the side where it began.
    expect(wire(wires, 'X0').to).toBe(wire(wires, 'X0').from);
  });

  it('has edges and parts where a cycle of 700 ns pulses and 3,072 cores put them', () => {
    const at = Object.fromEntries(pack.timing.edges.map((e) => [`${e.signal} ${e.edge}`, e.half * 1e9]));
    // Rise and fall 40 ns: half amplitude 20 ns after the start; the read ends 700 ns on.
    expect(at['x_read on']).toBeCloseTo(20, 9);
    expect(at['x_read off']).toBeCloseTo(720, 9);
    const counts = Object.fromEntries(pack.parts.map((part) => [part.what, part.count]));
    // A twentieth spare: 153.6.
    expect(counts.cores).toBe(3072 + 154);
    expect(counts['drivers of X, both ways']).toBe(16);
    expect(counts['drivers of inhibit']).toBe(24);
    expect(counts['sense amplifiers with detector and latch']).toBe(12);
    expect(counts['termination A']).toBe(12);
    // Two lines of 333 mA for 700 ns, twice; twenty-four halves of inhibit of 333 mA for 820 ns; 1 uC besides: 8.486 uC,
    // over 1 % of 24 V.
    expect(pack.parts.find((part) => part.what === 'reservoir')!.value).toContain('35.4 µF');
  });
});

describe('values that shops sell', () => {
  // IEC 60063, E96: 100, 102, 105, 107 … 976; ASTM B258: gauge 36 is 0.127 mm, gauge 40 0.0799 mm.
  it.each([
    [53.83, 53.6],
    [100.9, 100],
    [103.6, 105],
    [0.976, 0.976],
  ])('%f ohm is %f of the series of 1 %%', (ohms, nearest) => {
    expect(nearestE96(ohms)).toBeCloseTo(nearest, 9);
  });

  it.each([
    [0.127e-3, 36],
    [0.0799e-3, 40],
    [0.2546e-3, 30],
  ])('%f m is gauge %d', (diameter, gauge) => {
    expect(nearestGauge(diameter)).toBe(gauge);
  });
});
