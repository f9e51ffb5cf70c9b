import { VERSION } from '../base/version.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { toJsonDocument } from '../export/serialise.ts';
import { wireSources, type WireSource } from '../mat/wire-sources.ts';
import { simulate } from '../simulate/simulate.ts';
import { wholeWindow } from '../studies/whole-window.ts';
import type { StrobeWindow } from '../strobe/window-result.ts';
import { expectedTraces, type ExpectedTraces, type Simulate } from './expected-traces.ts';
import { measuringPlan, type MeasuringPlan } from './measuring/measuring-plan.ts';
import { measuringRows } from './measuring/measuring-sheet.ts';
import { packDocument } from './sheets.ts';
import { partsOf, type Part } from './parts.ts';
import { testPlan, type PlanStep } from './test-plan.ts';
import { threadingOf, type Threading } from './threading.ts';
import { timingOf, type Timing } from './timing.ts';
import { writeValueChanges } from './value-change.ts';

/** Everything to make a design from. */
export interface BuildPack {
  readonly design: Design;
  readonly window: StrobeWindow;
  readonly threading: Threading;
  readonly timing: Timing;
  readonly parts: readonly Part[];
  /** What to measure on one core before anything is threaded. */
  readonly measuring: MeasuringPlan;
  readonly plan: readonly PlanStep[];
  readonly traces: ExpectedTraces;
  /** Where every value about wires comes from. */
  readonly wires: readonly WireSource[];
}

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
    timing: timingOf(design, { time: window.inForce.time, interval: window.strobe }),
    parts: partsOf(design, threading),
    measuring: measuringPlan(design),
    plan: testPlan(design, window, traces),
    traces,
    wires: wireSources(design),
  };
}

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
  const { design: _, window, traces: __, ...rest } = pack;
  return toJsonDocument({
    version: VERSION,
    ...rest,
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
