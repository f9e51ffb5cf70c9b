/**
 * One core, one decision: a core that no core of the model is, known by its preset, by readings and by captures, and the
 * margin that each of them says of a design, beside the margin that the core itself gives. A hundred in pieces:
 * `SOAK_CORES=1-20 SOAK_KEEP=FILE npm run soak -- one-core`, then 21-40, and so on.
 */
import { expect, it } from 'vitest';
import type { CoreChoice } from '../../engine/design/core.ts';
import { openCore } from '../../engine/strobe/strobe-window.ts';
import { mixedCore, readTrace, readTrue } from '../mixed-core.ts';
import { Counts, tellPlace } from './one-core-counts.ts';
import { DOORS, OUTSIDE } from './one-core-doors.ts';
import { designFor, marginOf, placed, told, withCore } from './one-core-margins.ts';
import { patience } from './figures.ts';

/** Which cores, as SOAK_CORES=1-100. */
const [FIRST, LAST] = (process.env.SOAK_CORES ?? '1-6').split('-').map(Number) as [number, number];
const SIZES = (process.env.SOAK_SIZES ?? '8,64').split(',').map(Number);
const HEATS = (process.env.SOAK_HEATS ?? '25,40').split(',').map(Number);
/** By which ways in, as SOAK_DOORS=handbook,jig; left out: all. */
const ASKED = process.env.SOAK_DOORS?.split(';') ?? Object.keys(DOORS);
const PATIENCE = 40_000;

const counts = new Counts(process.env.SOAK_KEEP);
// The table keeps one row for words that differ by their numbers alone.
const places = SIZES.flatMap((size) =>
  HEATS.map((celsius) => ({
    size,
    celsius,
    name: `${size > 16 ? 'large' : 'small'} mat, ${celsius > 30 ? 'warm' : 'at room temperature'} (${size} x ${size}, ${celsius} °C)`,
  })),
);

/** What is known of a core by each way in that takes it and has not told of it yet. */
function knownBy(seed: number): { readonly door: string; readonly core: CoreChoice }[] {
  const truth = mixedCore(seed, { outsideDiameter: OUTSIDE });
  return ASKED.flatMap((door) => {
    if (places.every(({ name }) => counts.has(seed, name, door))) return [];
    try {
      return [{ door, core: DOORS[door]!(truth, seed) }];
    } catch (error) {
      counts.add({ seed, door, refused: (error as Error).message.slice(0, 90) });
      return [];
    }
  });
}

/** One core in every design: the margin that it has, and what each way in tells of it. */
function tellOf(seed: number): void {
  const known = knownBy(seed);
  if (known.length === 0) return;
  const truth = mixedCore(seed, { outsideDiameter: OUTSIDE });
  const { tenth } = readTrue(readTrace(truth, 1));
  const opened = known.map(({ door, core }) => ({
    door,
    core,
    open: openCore(withCore(designFor(8, 25, tenth), core)),
  }));
  for (const { size, celsius, name } of places) {
    const design = placed(withCore(designFor(size, celsius, tenth), truth.parts[0]));
    const margin = marginOf(design, truth);
    for (const { door, core, open } of opened)
      if (!counts.has(seed, name, door))
        counts.add({ seed, place: name, door, margin, ...told(withCore(design, core), open) });
  }
}

it('every way in holds the margin of the core itself, and all of them overlap', () => {
  const patient = patience(PATIENCE);
  for (let seed = FIRST; seed <= LAST && patient(); seed++) tellOf(seed);
  for (const { name } of places) {
    tellPlace(counts, name, ASKED);
    expect(counts.trialsIn(name).length).toBeGreaterThan(0);
  }
});
