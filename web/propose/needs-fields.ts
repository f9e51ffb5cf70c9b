import { writeQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { Json } from '../../engine/base/json-patch.ts';
import { rawAt, withValueAt, type RawDesign } from '../model/pointer.ts';

/** One field of the needs form: where its value stands in the file, and how it is typed. */
export interface NeedsField {
  readonly pointer: string;
  readonly label: string;
  readonly help: string;
  /** text: a quantity with its unit; number: a plain one. */
  readonly kind: 'text' | 'number';
}

const field = (
  pointer: string,
  label: string,
  help: string,
  kind: NeedsField['kind'] = 'text',
): NeedsField => ({ pointer, label, help, kind });

/** What is asked, in groups as a builder thinks of them. */
export const NEEDS_FIELDS: readonly (readonly [title: string, fields: readonly NeedsField[]])[] = [
  [
    'What it must do',
    [
      field('/words', 'Words', '4 to 16,384', 'number'),
      field('/bits', 'Bits of a word', '1 to 64: one mat each', 'number'),
      field('/cycle', 'Cycle', 'from read to read, or a rate: 250 kHz'),
      field('/temperature/from', 'Coldest', 'cores and drivers'),
      field('/temperature/to', 'Warmest', 'cores and drivers'),
      field('/want/margin', 'Margin', 'left at the corners'),
      field('/want/width', 'Window', 'left at the corners'),
    ],
  ],
  [
    'What there is',
    [
      field('/supply/voltage', 'Supply', 'volts of the drivers'),
      field('/supply/budget', 'Supply current', 'on average'),
      field('/wire/bareDiameter', 'Bare wire', 'diameter of the conductor'),
      field('/wire/diameter', 'Insulated wire', 'outside diameter'),
      field('/drivers/fastest', 'Fastest edge', 'of the drivers, 0 to 100 %'),
      field('/amplifier/most', 'Amplifiers a bit', 'at most, 1 to 4', 'number'),
    ],
  ],
];

/** Yes or no. */
export const NEEDS_CHECKS: readonly (readonly [pointer: string, label: string])[] = [
  ['/drivers/track', 'Drives can follow the temperature'],
  ['/fourthWire', 'A fourth wire may be threaded'],
];

/** Needs that the design on the stage would meet in kind: its organisation, core, supply, wire and what it asks for. */
export function needsOf(raw: RawDesign, design: Design): Json {
  const { mat, cycle, temperature, tolerances, supply, requirement, wire, drive, winding } = design;
  const given = (name: string, ...without: readonly string[]): object => {
    const part = without.reduce(
      (rest, key) => withValueAt(rest, `/${key}`, undefined),
      rawAt(raw, `/${name}`) ?? {},
    );
    return Object.keys(part).length === 0 ? {} : { [name]: part };
  };
  const celsius = (value: number): string => `${Number(value.toPrecision(6))} degC`;
  const metres = (value: number): string => writeQuantity(Number(value.toPrecision(4)), 'm');
  return {
    name: String(rawAt(raw, '/name') ?? 'memory'),
    words: Math.max(4, mat.rows * mat.columns),
    bits: mat.mats,
    cores: [rawAt(raw, '/core') ?? {}],
    cycle: writeQuantity(cycle.period, 's'),
    temperature: {
      from: celsius(temperature - tolerances.temperature),
      to: celsius(temperature + tolerances.temperature),
    },
    supply: {
      ...(rawAt(raw, '/supply') as object | undefined),
      voltage: writeQuantity(supply.voltage, 'V'),
      budget: writeQuantity(supply.budget, 'A'),
    },
    drivers: { fastest: '15 ns', track: drive.x.temperatureCoefficient !== 0 },
    wire: {
      diameter: metres(wire.diameter),
      bareDiameter: metres(wire.bareDiameter),
      material: wire.material,
    },
    fourthWire: winding.kind.startsWith('separate'),
    amplifier: { most: 4 },
    want: {
      margin: writeQuantity(requirement.margin, 'V'),
      width: writeQuantity(requirement.width, 's'),
      yield: requirement.yield,
    },
    prefer: 'margin',
    ...given('tolerances', 'temperature'),
    ...given('detector', 'threshold', 'slope'),
    ...given('strobe', 'time'),
  } as unknown as Json;
}
