import { designToJson } from '../design/design-to-json.ts';
import { measuringRows } from './measuring/measuring-sheet.ts';
import { stageFiles, stageRows } from './pack-stages.ts';
import type { BuildPack } from './pack.ts';
import { writeValueChanges } from './value-change.ts';

/** The files beside the document, name to text: the design, its stages (JSON), the sheets as tables (CSV) and the timing (VCD). */
export function packTables(pack: BuildPack): Readonly<Record<string, string>> {
  const { timing, parts, threading, measuring } = pack;
  const ns = (seconds: number): string => (seconds * 1e9).toFixed(3);
  return {
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

const csv = (rows: readonly (readonly string[])[]): string =>
  rows
    .map((row) =>
      row.map((cell) => (/[",\n]/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(','),
    )
    .join('\n') + '\n';
