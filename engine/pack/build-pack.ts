import { VERSION } from '../base/version.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { toJsonDocument } from '../export/serialise.ts';
import { wireSources } from '../mat/wire-sources.ts';
import { simulate } from '../simulate/simulate.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { expectedTraces, type Simulate } from './expected-traces.ts';
import { measuringPlan } from './measuring/measuring-plan.ts';
import { measuringRows } from './measuring/measuring-sheet.ts';
import { packDocument } from './sheets.ts';
import { packStages, stageFiles, stageJson, stageRows } from './pack-stages.ts';
import { partsOf } from './parts.ts';
import { testPlan } from './test-plan.ts';
import { threadingOf } from './threading.ts';
import { timingOf } from './timing.ts';
import { writeValueChanges } from './value-change.ts';
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
  const { timing, parts, threading, measuring } = pack;
  const ns = (seconds: number): string => (seconds * 1e9).toFixed(3);
  return {
    'pack.html': packDocument(pack),
    'design.json': `${JSON.stringify(designToJson(pack.design), null, 2)}\n`,
    'timing.csv': csv([
      ['signal', 'edge', 'start_ns', 'half_ns', 'end_ns', 'tolerance_ns'],
      ...timing.edges.map((e) => [e.signal, e.edge, ns(e.start), ns(e.half), ns(e.end), ns(e.tolerance)]),
    ]),
    'timing.vcd': writeValueChanges(timing, pack.design.name),
    'parts.csv': csv([
      ['group', 'what', 'count', 'value', 'note'],
      ...parts.map((p) => [p.group, p.what, String(p.count), p.value, p.note]),
    ]),
    'core-readings.csv': csv(measuringRows(measuring)),
    ...stageFiles(pack.stages),
    'stages.csv': csv(stageRows(pack.stages)),
    'threading.csv': csv([
      ['wire', 'place', 'row', 'column', 'way_x', 'way_y'],
      ...threading.wires.flatMap((wire) =>
        wire.cores.map((c, i) => [wire.name, i + 1, c.row, c.column, c.way.x, c.way.y].map(String)),
      ),
    ]),
  };
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

const csv = (rows: readonly (readonly string[])[]): string =>
  rows
    .map((row) =>
      row.map((cell) => (/[",\n]/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(','),
    )
    .join('\n') + '\n';
