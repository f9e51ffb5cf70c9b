import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { advise } from '../../../engine/advice/advice.ts';
import { CAUTIONS } from '../../../engine/warnings/cautions.ts';
import { checkDesign } from '../../../engine/check/check-design.ts';
import { designToJson } from '../../../engine/design/design-to-json.ts';
import { ticksOf } from '../../../engine/report/chart.ts';
import { escapeText, keepUnits } from '../../../engine/report/markup.ts';
import { makeReport } from '../../../engine/report/report.ts';
import { strobeWindow } from '../../../engine/strobe/strobe-window.ts';
import { VERSION } from '../../../engine/base/version.ts';

const path = new URL('../../../fixtures/designs/minimal.json', import.meta.url);
const raw = JSON.parse(readFileSync(path, 'utf8')) as object;
const nasty = '<script>alert("x")</script> & \'co\'';
const design = checkDesign({ ...raw, name: nasty, note: '</script><b>' });
const window = strobeWindow(design, { cases: 'full' });
const advice = advise(design, { wanted: { margin: 1, width: 0 }, trials: 1 });
const html = makeReport(design, { window, advice });

/** Names of tags that are opened and closed out of order; void elements aside. */
function unbalanced(document: string): string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  const text = document.replace(/<(style|script)[^>]*>[\s\S]*?<\/\1>/g, '');
  for (const [, close, name, own] of text.matchAll(/<(\/?)([a-z][a-z0-9A-Z]*)\b[^>]*?(\/?)>/g)) {
    if (own === '/' || name === 'meta') continue;
    if (close !== '/') open.push(name);
    else if (open.pop() !== name) wrong.push(name);
  }
  return [...wrong, ...open];
}

describe('the printable report', () => {
  it('is one well-formed document with nothing from elsewhere and no script that runs', () => {
    expect(unbalanced(html)).toEqual([]);
    expect(html).not.toMatch(/https?:|src=|href=|@import|<link/);
    expect(html).not.toMatch(/\son[a-z]+=/);
    expect(html.match(/<script/g)).toHaveLength(1);
    expect(html).toContain('<script type="application/json"');
  });

  it('keeps what a design says from being markup', () => {
    expect(html).not.toContain('<script>alert');
    expect(html).toContain(escapeText(nasty));
    const inside = /id="design">([\s\S]*?)<\/script>/.exec(html)![1];
    expect(JSON.parse(inside)).toEqual(designToJson(design));
    expect(checkDesign(JSON.parse(inside))).toEqual(design);
  });

  it('holds inputs, window, opening, contributions, warnings, uncertainties, version, seed and cautions', () => {
    for (const title of [
      'Strobe and threshold',
      'Where the voltage comes from',
      'What uses it up, and what to change',
      'Warnings',
      'Uncertainties',
      'Cases that were run',
      'Cautions',
      'Inputs',
    ])
      expect(html).toContain(`<h2>${title}</h2>`);
    for (const { text } of CAUTIONS) expect(html).toContain(escapeText(text));
    for (const { name } of window.cases) expect(html).toContain(escapeText(keepUnits(name)));
    expect(html).toContain(`Strobewright ${VERSION}, seed ${design.stored.seed}`);
    expect(html).toContain('<dt>drive.x.readAmplitude</dt>');
    expect(html.match(/<svg/g)).toHaveLength(8);
  });

  it('draws finite numbers only and none far outside a page', () => {
    for (const [, d] of html.matchAll(/ d="([^"]*)"/g))
      for (const number of d.match(/-?[\d.]+/g) ?? []) expect(Math.abs(Number(number))).toBeLessThan(2000);
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('is the same bytes each time', () => {
    expect(makeReport(design, { window, advice })).toBe(html);
  });

  it('says why when there is no window', () => {
    const dull = checkDesign({ ...raw, detector: { threshold: '300 mV' } });
    const closed = makeReport(dull);
    expect(closed).toContain('✗ Does not read');
    expect(closed).toContain('best pair');
    expect(unbalanced(closed)).toEqual([]);
    const { row, column } = design.selected;
    const empty = makeReport(checkDesign({ ...raw, exceptions: [{ row, column, missing: true }] }));
    expect(empty).toContain('No strobe has a threshold');
    expect(unbalanced(empty)).toEqual([]);
  });

  it('has round ticks inside the axis', () => {
    expect(ticksOf({ quantity: 't', unit: 'ns', low: 0, high: 1000 }, 5)).toEqual([
      0, 200, 400, 600, 800, 1000,
    ]);
    expect(ticksOf({ quantity: 'u', unit: 'mV', low: -0.31, high: 0.31 }, 4)).toEqual([-0.2, 0, 0.2]);
  });
});
