import { VERSION } from '../base/version.ts';
import type { Design } from '../design/design.ts';
import { toJsonDocument } from '../export/serialise.ts';
import { wireSources } from '../mat/wire-sources.ts';
import { simulate } from '../simulate/simulate.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { expectedTraces, type Simulate } from './expected-traces.ts';
import { measuringPlan } from './measuring/measuring-plan.ts';
import { packDocument } from './sheets.ts';
import { packStages, stageJson } from './pack-stages.ts';
import { packTables } from './pack-tables.ts';
import { partsOf } from './parts.ts';
import { testPlan } from './test-plan.ts';
import { threadingOf } from './threading.ts';
import { timingOf } from './timing.ts';
import type { BuildPack } from './pack.ts';

export interface PackOptions {
  /** The solver, or one that can be cancelled. */
  readonly simulate?: Simulate;
  /** A window that is at hand already. */
  readonly window?: StrobeWindow;
}

/**
 * The build pack of a design: threading in order of passing, timing (s), parts, what to measure on one core, first
 * power-up and test with the traces to expect, and what all of it rests on. Takes as long as a window, unless one is given.
 */
export function buildPack(design: Design, options: PackOptions = {}): BuildPack {
  const run = options.simulate ?? simulate;
  const window = options.window ?? wholeWindow(design, { simulate: run });
  const threading = threadingOf(design);
  const traces = expectedTraces(design, run);
  return {
    design,
    window,
    threading,
    timing: timingOf(design, { time: window.inForce.time, interval: strobeRoom(window) }),
    parts: partsOf(design, threading),
    measuring: measuringPlan(design),
    plan: testPlan(design, window, traces),
    traces,
    stages: packStages(design, window.inForce.time, run),
    wires: wireSources(design),
  };
}

/** Where the strobe may lie: at the corners, where the design reads there; else as designed. */
const strobeRoom = ({ corners, strobe }: StrobeWindow): StrobeWindow['strobe'] =>
  corners ? corners.strobe : strobe;

/** The files of a pack, name to text: the document to print (HTML), and the same as tables (CSV, VCD) and as JSON. */
export function packFiles(pack: BuildPack): Readonly<Record<string, string>> {
  return { 'pack.html': packDocument(pack), ...packTables(pack) };
}

/** The same as one JSON document, SI: what the HTTP interface answers. */
export const packJson = (pack: BuildPack): string => {
  const { design: _, window, traces: __, stages: ___, ...rest } = pack;
  return toJsonDocument({
    version: VERSION,
    ...rest,
    stages: pack.stages.map(stageJson),
    verdict: window.verdict,
    ledger: window.ledger,
    files: packFiles(pack),
  });
};
