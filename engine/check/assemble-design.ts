import { coreFromHandbook } from '../core/handbook/invert.ts';
import type { CoreHandbook, HandbookCore } from '../core/handbook/values.ts';
import { exactly, type CoreRanges } from '../design/core-ranges.ts';
import { measuredPulse } from '../drive/measured-pulse.ts';
import { misshapen, polarityOfThreading } from '../mat/threading.ts';
import { crooked } from './rules-measured.ts';
import { CORE_PRESETS, DEFAULT_CORE_PRESET } from '../design/core-presets.ts';
import { fillWires } from './fill-wires.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type { CoreChoice, CoreParameters } from '../design/core.ts';
import type { Design } from '../design/design.ts';
import type { Cycle, DriveTable, EdgeShape, LineDrive, LineSource } from '../design/drive.ts';
import type { Winding } from '../design/mat.ts';

/** Amplitude of X and Y where a current source gives none, A. */
const DEFAULT_AMPLITUDE = 0.37;
const DEFAULT_SOURCE = { voltage: 20, resistance: 53 } as const;

/** The design that a read file means: choices resolved, dependent defaults filled. Throws HandbookError. */
export function assembleDesign(file: ReadDesignFile): Design {
  const { $schema: _, ...rest } = file;
  const last = file.programme?.at(-1);
  const row = file.selected.row ?? last?.row ?? 0;
  const column = file.selected.column ?? last?.column ?? 0;
  const only: Cycle = { row, column, lines: 'both', read: true, write: 'restore' };
  const { inhibit } = file.drive;
  const core = chooseCore(file.core);
  const winding = windingOf(file.winding);
  const { mat, wire, x, y, filled } = fillWires(file, winding, core.parameters);
  return {
    ...rest,
    core,
    mat,
    wire,
    drive: {
      x: lineDrive({ ...file.drive.x, ...x }),
      y: lineDrive({ ...file.drive.y, ...y }),
      inhibit: {
        ...inhibit,
        edge: edgeShape(inhibit.edge),
        compliance: inhibit.compliance ?? Math.max(0.1, file.supply.voltage - file.supply.headroom),
      },
    },
    winding,
    selected: { row, column, bit: file.selected.bit },
    programme: file.programme ?? [only],
    strobe: { ...file.strobe, time: file.strobe.time },
    tolerances: { ...file.tolerances, inhibit: file.tolerances.inhibit ?? file.tolerances.drive },
    numerics: { ...file.numerics, step: file.numerics.step, sections: file.numerics.sections },
    filled,
  };
}

function chooseCore(core: ReadDesignFile['core']): CoreChoice {
  const base = core.handbook ? fromHandbook(core.handbook) : CORE_PRESETS[core.preset ?? DEFAULT_CORE_PRESET];
  const given = withoutGaps(core.parameters ?? {});
  const count = Object.keys(given).length;
  const changed = count > 0;
  return {
    name: core.name ?? (changed ? `${base.name}, changed` : base.name),
    source:
      core.source ?? (changed ? `${base.source}; ${count} parameters given in the design` : base.source),
    parameters: { ...base.parameters, ...(given as Partial<CoreParameters>) },
    range: rangesOf(core, base.range),
    test: { ...base.test, ...withoutGaps(core.test ?? {}) },
  };
}

/** What is not known of the core: as the file says, nothing of a parameter given in it, else as its origin has it. */
function rangesOf({ range, parameters }: ReadDesignFile['core'], base: CoreRanges): CoreRanges {
  return mapValues(base, (usual, name) => {
    const given = parameters?.[name];
    return range?.[name] ?? (given === undefined ? usual : exactly(given));
  });
}

const withoutGaps = <T extends object>(values: T): Partial<T> =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Partial<T>;

const mapValues = <Key extends string, In, Out>(
  from: Readonly<Record<Key, In>>,
  of: (value: In, key: Key) => Out,
): Record<Key, Out> =>
  Object.fromEntries(Object.entries<In>(from).map(([key, value]) => [key, of(value, key as Key)])) as Record<
    Key,
    Out
  >;

/** Inverting a handbook takes tens of milliseconds, and a page asks for the same core at every touch of a slider. */
const inverted = new Map<string, HandbookCore>();

function fromHandbook(file: NonNullable<ReadDesignFile['core']['handbook']>): CoreChoice {
  const { $schema: _, name, source, note: __, grades: ___, ...values } = file;
  const handbook: CoreHandbook = values;
  const key = JSON.stringify(handbook);
  let core = inverted.get(key);
  if (!core) {
    core = coreFromHandbook(handbook);
    if (inverted.size >= 16) inverted.clear();
    inverted.set(key, core);
  }
  const { parameters, range, test } = core;
  return {
    name: name ?? 'core from handbook values',
    source: source ?? 'handbook values in the design',
    parameters,
    range,
    test,
  };
}

type FilledLine = ReadDesignFile['drive']['x'] & Pick<LineDrive, 'resistance' | 'inductance'>;

/** Polarity as given, or as it follows from the threading; a crooked one is refused by the rules. */
function windingOf({ threading, ...winding }: ReadDesignFile['winding']): Winding {
  if (threading === undefined || winding.polarity !== undefined || misshapen(threading) !== undefined)
    return winding;
  return { ...winding, polarity: polarityOfThreading(threading).polarity };
}

function lineDrive(drive: FilledLine): LineDrive {
  const source = lineSource(drive.source);
  const settled =
    source.kind === 'voltage' ? source.voltage / (source.resistance + drive.resistance) : DEFAULT_AMPLITUDE;
  const [read, write] = [driveTable(drive.read), driveTable(drive.write)];
  const known = read === undefined ? undefined : measuredPulse(read);
  const readAmplitude = drive.readAmplitude ?? known?.top ?? settled;
  return {
    ...drive,
    source,
    edge: edgeShape(drive.edge),
    readAmplitude,
    writeAmplitude: drive.writeAmplitude ?? (write === undefined ? readAmplitude : measuredPulse(write).top),
    ...(known === undefined ? {} : { rise: known.rise, fall: known.fall }),
    read,
    write,
  };
}

/** A table that can be read off; others are refused by the rules (rules-measured.ts). */
function driveTable(table: ReadDesignFile['drive']['x']['read']): DriveTable | undefined {
  if (table?.points === undefined || crooked(table.points) !== undefined) return undefined;
  const { points, time, current } = table;
  return { points, time, current };
}

function lineSource(source: ReadDesignFile['drive']['x']['source']): LineSource {
  if (source.kind === 'current') return { kind: 'current' };
  return {
    kind: 'voltage',
    voltage: source.voltage ?? DEFAULT_SOURCE.voltage,
    resistance: source.resistance ?? DEFAULT_SOURCE.resistance,
  };
}

function edgeShape(edge: ReadDesignFile['drive']['x']['edge']): EdgeShape {
  if (edge.kind !== 'table') return { kind: edge.kind };
  return {
    kind: 'table',
    points: edge.points ?? [
      [0, 0],
      [1, 1],
    ],
  };
}
