import { coreFromHandbook } from '../core/handbook/invert.ts';
import type { CoreHandbook } from '../core/handbook/values.ts';
import { CORE_PRESETS, DEFAULT_CORE_PRESET } from '../design/core-presets.ts';
import { fillWires } from './fill-wires.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import type {
  CoreChoice,
  CoreParameters,
  Cycle,
  Design,
  EdgeShape,
  LineDrive,
  LineSource,
} from '../design/design.ts';

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
  const { mat, wire, x, y, filled } = fillWires(file, core.parameters);
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
  const given = Object.entries(core.parameters ?? {}).filter(([, value]) => value !== undefined);
  const changed = given.length > 0;
  return {
    name: core.name ?? (changed ? `${base.name}, changed` : base.name),
    source:
      core.source ??
      (changed ? `${base.source}; ${given.length} parameters given in the design` : base.source),
    parameters: { ...base.parameters, ...(Object.fromEntries(given) as Partial<CoreParameters>) },
  };
}

/** Inverting a handbook takes tens of milliseconds, and a page asks for the same core at every touch of a slider. */
const inverted = new Map<string, CoreParameters>();

function fromHandbook(file: NonNullable<ReadDesignFile['core']['handbook']>): CoreChoice {
  const { $schema: _, name, source, note: __, grades: ___, ...values } = file;
  const handbook: CoreHandbook = values;
  const key = JSON.stringify(handbook);
  let parameters = inverted.get(key);
  if (!parameters) {
    ({ parameters } = coreFromHandbook(handbook));
    if (inverted.size >= 16) inverted.clear();
    inverted.set(key, parameters);
  }
  return {
    name: name ?? 'core from handbook values',
    source: source ?? 'handbook values in the design',
    parameters,
  };
}

type FilledLine = ReadDesignFile['drive']['x'] & Pick<LineDrive, 'resistance' | 'inductance'>;

function lineDrive(drive: FilledLine): LineDrive {
  const source = lineSource(drive.source);
  const settled =
    source.kind === 'voltage' ? source.voltage / (source.resistance + drive.resistance) : DEFAULT_AMPLITUDE;
  const readAmplitude = drive.readAmplitude ?? settled;
  return {
    ...drive,
    source,
    edge: edgeShape(drive.edge),
    readAmplitude,
    writeAmplitude: drive.writeAmplitude ?? readAmplitude,
  };
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
