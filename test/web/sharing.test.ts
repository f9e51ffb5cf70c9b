import { describe, expect, it } from 'vitest';
import { VERSION } from '../../engine/base/version.ts';
import { checkDesign } from '../../engine/check/check-design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import { GLOSSARY } from '../../web/lessons/glossary.ts';
import { de } from '../../web/lessons/words/de/de.ts';
import { en } from '../../web/lessons/words/en/en.ts';
import type { Run } from '../../web/model/run.ts';
import { rowsToShow, type ChartData } from '../../web/sharing/chart-data.ts';
import { crc32, withPngText } from '../../web/sharing/png-text.ts';
import { chartCsv, chartJson } from '../../web/sharing/text-files.ts';
import { strobeStateAt } from '../../web/model/strobe-state.ts';
import { causesSummary, certaintyText, mainSummary } from '../../web/model/summaries.ts';
import { builtUp, causesOf } from '../../web/model/traces.ts';
import { differingInputs } from '../../web/model/pointer.ts';
import { verdictOf } from '../../web/stage/verdict/readouts.ts';

const raw = {
  name: 'small',
  core: { preset: 'ferrite-20-mil' },
  mat: { rows: 4, columns: 4 },
  winding: { kind: 'shared-one-run' },
  detector: { threshold: '18 mV' },
};
const design = checkDesign(raw);
const ensemble = runEnsemble(design, { simulate, cases: 'quick' });
const bit = (value: 0 | 1) => simulate({ ...design, selected: { ...design.selected, bit: value } });
const run: Run = {
  design,
  one: bit(1),
  zero: bit(0),
  ensemble: 'envelope' in ensemble ? ensemble : undefined,
  reason: undefined,
  grade: 'quick',
  warnings: [],
};
const data: ChartData = {
  file: 'x',
  title: 'A chart',
  summary: 'Words.',
  columns: [
    { title: 'time / s', values: [0, 1e-9] },
    { title: 'name, with "quotes"', values: ['a', 'b'] },
  ],
  design,
  pictures: [],
};

describe('files that leave the page', () => {
  it('begin, as CSV, with version, seed and inputs, and quote what needs quotes', () => {
    const lines = chartCsv(data).split('\n');
    expect(lines[0]).toBe(`# strobewright ${VERSION}`);
    expect(lines[1]).toBe(`# seed ${design.stored.seed}`);
    expect(lines[2]).toMatch(/^# design \{.*"rows":4/);
    expect(lines.slice(3)).toEqual(['time / s,"name, with ""quotes"""', '0,a', '1e-9,b', '']);
  });

  it('hold, as JSON, the same with every digit', () => {
    const json = JSON.parse(chartJson(data)) as { version: string; columns: Record<string, unknown> };
    expect(json.version).toBe(VERSION);
    expect(json.columns['time / s']).toEqual([0, 1e-9]);
  });

  it('carry text in a PNG chunk whose check sum holds', () => {
    // PNG specification: the IEND chunk is 00 00 00 00 49 45 4E 44 AE 42 60 82.
    expect(crc32(new TextEncoder().encode('IEND'))).toBe(0xae426082);
    const out = withPngText(new Uint8Array(60).fill(7), 'key', 'µ');
    expect(out.subarray(0, 33)).toEqual(new Uint8Array(33).fill(7));
    const length = new DataView(out.buffer).getUint32(33);
    const body = out.subarray(37, 37 + 4 + length);
    expect(new TextDecoder().decode(body)).toBe('iTXtkey\0\0\0\0\0µ');
    expect(new DataView(out.buffer).getUint32(37 + 4 + length)).toBe(crc32(body));
    expect(out.length).toBe(60 + 12 + length);
  });

  it('show, as a table, at most so many rows, the first and the last among them', () => {
    expect(rowsToShow(3, 60)).toEqual([0, 1, 2]);
    const rows = rowsToShow(3001, 60);
    expect([rows.length, rows[0], rows.at(-1)]).toEqual([60, 0, 3000]);
  });
});

describe('what is said of a run', () => {
  const best = strobeStateAt(run, undefined, design.detector.threshold)!;

  it('adds up: the four causes, one after another, end at the sense voltage', () => {
    const { inhibit } = builtUp(causesOf(run, 1));
    const peak = run.one.senseVoltage.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    inhibit.forEach((value, i) =>
      expect(Math.abs(value - run.one.senseVoltage[i]!)).toBeLessThanOrEqual(1e-9 * peak),
    );
  });

  it('judges a strobe in its window right, one at the very start not', () => {
    expect(['ok', 'warning']).toContain(verdictOf(best).icon);
    expect(verdictOf(strobeStateAt(run, 0, design.detector.threshold)!).icon).toBe('error');
  });

  it('is a paragraph with the numbers of the read-outs', () => {
    expect(mainSummary(run, best)).toMatch(/^Amplifier output .*window from .* ns.*\.$/);
    expect(causesSummary(run, 0, best.time)).toMatch(
      /ZERO is read: direct coupling .*; inhibit .*add up to the total\.$/,
    );
    expect(certaintyText(run, run)).toMatch(/^Least and greatest of \d+ runs .* threshold known to ±/);
  });

  it('says that an unjudged run has no strobe yet', () => {
    expect(strobeStateAt({ ...run, ensemble: undefined }, undefined, 0.02)).toBeUndefined();
  });

  it('compares pinned designs by the inputs that differ, names apart', () => {
    const warm = { ...raw, name: 'warm', temperature: '60 degC' };
    expect(differingInputs([raw, warm, raw])).toEqual(['/temperature']);
    expect(differingInputs([raw])).toEqual([]);
  });
});

describe('the glossary', () => {
  it('gives every term once in every language, with its meaning as a sentence, and its source where it has one', () => {
    for (const { glossary } of [en, de]) {
      const terms = Object.values(glossary).map(({ term }) => term);
      expect(terms).toHaveLength(new Set(terms).size);
      for (const { term, meaning } of Object.values(glossary))
        expect(meaning, term).toMatch(/^\p{Lu}.{20,}\.$/u);
    }
    const cited = ['switching', 'polarities', 'reported', 'read'];
    for (const [key, source] of Object.entries(GLOSSARY))
      expect('cite' in source && source.cite.length > 10, key).toBe(cited.includes(source.how));
  });
});
