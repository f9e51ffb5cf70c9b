import { describe, expect, it } from 'vitest';
import { panelPairs, SERIES, seriesStyle, surface, tokensCss } from '../../web/ui/tokens.ts';
import { contrast, distance, hsv } from './colour-difference.ts';

const THEMES = ['light', 'dark'] as const;

describe.each(THEMES)('the %s palette', (theme) => {
  it.each(SERIES)('keeps %s at 3:1 or more on the ground and on both tints', (name) => {
    for (const under of [surface.ground, surface.strobeTint, surface.thresholdTint])
      expect(contrast(seriesStyle[name][theme], under[theme])).toBeGreaterThanOrEqual(3);
  });

  it.each(['text', 'secondary', 'error', 'ok', 'warning'] as const)(
    'keeps %s at 4.5:1 or more on page and ground',
    (name) => {
      for (const under of [surface.page, surface.ground])
        expect(contrast(surface[name][theme], under[theme])).toBeGreaterThanOrEqual(4.5);
    },
  );

  it.each(['strobeEdge', 'thresholdEdge'] as const)('keeps %s at 3:1 or more on the ground', (name) => {
    expect(contrast(surface[name][theme], surface.ground[theme])).toBeGreaterThanOrEqual(3);
  });

  it.each(panelPairs)('keeps %s and %s, which share a panel, 18 apart for every kind of sight', (a, b) => {
    for (const vision of ['normal', 'deuteranopia', 'protanopia'] as const)
      expect(distance(seriesStyle[a][theme], seriesStyle[b][theme], vision)).toBeGreaterThanOrEqual(18);
  });
});

it('has no dark hue within 15° of the four pure hues of instrument screens', () => {
  for (const name of SERIES) {
    const [hue, saturation, value] = hsv(seriesStyle[name].dark);
    if (saturation < 0.5 || value < 0.7) continue;
    for (const pure of [60, 180, 240, 300])
      expect(Math.abs(((hue - pure + 540) % 360) - 180)).toBeGreaterThanOrEqual(15);
  }
});

it('tells the lines of one panel apart by dash or by weight alone', () => {
  for (const [a, b] of panelPairs) {
    const [first, second] = [seriesStyle[a], seriesStyle[b]];
    expect(`${first.dash.join()} ${first.width}`).not.toBe(`${second.dash.join()} ${second.width}`);
  }
});

it('writes every colour once for each theme, and prints in light', () => {
  const css = tokensCss();
  for (const name of SERIES)
    for (const theme of THEMES) expect(css).toContain(`--${name}:${seriesStyle[name][theme]}`);
  expect(css).not.toMatch(/@media print[^{]*\{[^}]*dark/);
});

it('measures distance as published: black and white are 100 lightness steps apart', () => {
  // J' runs from 0 to 100 by the definition of CAM02-UCS: (1 + 0.7) 100 / (1 + 0.007 × 100) = 100.
  expect(distance('#000000', '#FFFFFF', 'normal')).toBeCloseTo(100, 0);
  // WCAG 2.2: black on white is 21:1.
  expect(contrast('#000000', '#FFFFFF')).toBeCloseTo(21, 6);
});
