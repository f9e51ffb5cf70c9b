import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../../engine/base/units.ts';
import type { Design } from '../../engine/design/design.ts';
import { simulate } from '../../engine/simulate/simulate.ts';
import { runEnsemble } from '../../engine/strobe/ensemble.ts';
import type { StrobeEnsemble } from '../../engine/strobe/ensemble-result.ts';
import { windowOf } from '../../engine/strobe/window-of.ts';
import { demo } from '../demo-design.ts';
import { boxOf, browserPath, openPage, settledAfter } from './chromium.ts';
import { dragToAndFro, watchFigures, type Said } from './dragging.ts';
import { visiting } from './visiting.ts';

/** s of each of the three drags; a minute altogether is DRAG_SECONDS=60. */
const SECONDS = Number(process.env['DRAG_SECONDS'] ?? 5) / 3;
const NAME = 'classroom-board-first-try-4x4';

const ensembles = new Map<string, StrobeEnsemble>();

/** What the engine judges by, worked out here and not on the page. */
function ensembleOf(design: Design, cases: 'quick' | 'full'): StrobeEnsemble {
  const key = `${cases} ${design.drive.x.readAmplitude}`;
  const known = ensembles.get(key);
  if (known) return known;
  const found = runEnsemble(design, { simulate, cases });
  if (!('envelope' in found)) throw new Error(found.failed.name);
  ensembles.set(key, found);
  return found;
}

/** V, signed; what is "too low" or "too high" is short. */
function voltsIn(text: string): number {
  const found = /(?<sign>[−-]?)(?<figure>[\d.]+ [mµ]?V)/u.exec(text)!.groups!;
  const size = parseQuantity(found['figure']!, 'V');
  return found['sign'] !== '' || text.includes('too ') ? -size : size;
}

/** V: half of the last of three digits. */
const rounding = (volts: number): number =>
  Math.max(1e-9, 0.501 * 10 ** (Math.floor(Math.log10(Math.abs(volts))) - 2));

/** Every figure that a frame says without a mark, held against the engine at the inputs of the same frame. */
function wrongIn(said: Said, design: Design, follows: boolean): readonly string[] {
  const { nominal, corners, bracket, stairs } = said;
  if (nominal === undefined && corners === undefined && bracket === undefined && stairs === undefined)
    return [];
  const ensemble = ensembleOf(design, corners === undefined ? 'quick' : 'full');
  const time = follows ? undefined : Number(said.strobe) * 1e-9;
  const window = windowOf(ensemble, { time, threshold: Number(said.threshold) * 1e-3 });
  const inSet = { nominal: window.margin.left, corners: window.corners?.margin.left };
  const ofStairs = stairs?.startsWith('At the corners') ? inSet.corners : inSet.nominal;
  return [
    ['as designed', nominal, inSet.nominal],
    ['at the corners', corners, inSet.corners],
    ['bracket', bracket, inSet.nominal],
    ['stairs', stairs?.includes('cross') ? undefined : stairs, ofStairs],
  ].flatMap(([what, text, is]) => {
    if (text === undefined) return [];
    const off = typeof is === 'number' ? Math.abs(voltsIn(String(text)) - is) : Infinity;
    return off <= rounding(Number(is))
      ? []
      : [`${what}: "${text}" where the engine says ${is} V (${JSON.stringify(said)})`];
  });
}

const differing = (said: readonly Said[], what: keyof Said): number =>
  new Set(said.map((each) => each[what])).size;

describe.skipIf(browserPath === undefined)('while something is dragged', () => {
  const visit = visiting();
  const design = demo(NAME);

  it.each([
    ['Strobe', 'strobe', { x: 60, y: 0 }],
    ['Threshold', 'threshold', { x: 0, y: 40 }],
  ] as const)('%s: every figure is of the inputs beside it', async (name, what, along) => {
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan?d=@${NAME}`);
    const grip = await boxOf(page.getByRole('slider', { name, exact: true }));
    const follows = what === 'threshold';
    const watch = await watchFigures(page);
    await dragToAndFro(
      page,
      { x: grip.x + grip.width / 2, y: grip.y + grip.height / 2 },
      along,
      SECONDS,
      false,
    );
    const said = await watch.stop();
    expect(differing(said, what)).toBeGreaterThan(10);
    expect(differing(said, 'nominal')).toBeGreaterThan(10);
    expect(said.flatMap((each) => wrongIn(each, design, follows))).toEqual([]);
    await page.context().close();
  });

  it('Current: every figure is of the current beside it, or marked as of the one before', async () => {
    const { page } = await openPage(visit.browser, `${visit.server.url}#/plan?d=@${NAME}&open=drivers`);
    const slider = await boxOf(page.getByRole('slider', { name: 'Current of each line, slider' }));
    const watch = await watchFigures(page);
    const middle = { x: slider.x + slider.width / 2, y: slider.y + slider.height / 2 };
    await dragToAndFro(page, middle, { x: slider.width / 12, y: 0 }, SECONDS, true);
    await settledAfter(page);
    const said = await watch.stop();
    expect(differing(said, 'current')).toBeGreaterThan(3);
    expect(said.some(({ marked }) => marked)).toBe(true);
    expect(differing(said, 'nominal')).toBeGreaterThan(2);
    expect(said.flatMap((each) => wrongIn(each, withCurrent(design, each.current!), true))).toEqual([]);
    await page.context().close();
  });
});

/** As the slider of the card writes it: both lines, and their write currents too, since this design states them. */
function withCurrent(design: Design, text: string): Design {
  const amps = parseQuantity(text, 'A');
  const { x, y } = design.drive;
  const line = (of: typeof x) => ({ ...of, readAmplitude: amps, writeAmplitude: amps });
  return { ...design, drive: { ...design.drive, x: line(x), y: line(y) } };
}
