import { valueAt } from '../base/json-patch.ts';
import type { Unit } from '../base/units.ts';
import type { Design, FilledValue } from '../design/design.ts';
import { wireValues, type WireGeometry, type WireValues } from './wire-values.ts';

/** Where a value about wires comes from: the file, handbook formulas, or a default that stands for a guess. */
export type WireOrigin = 'given' | FilledValue['from'];

export interface WireSource {
  /** JSON pointer of the design field. */
  readonly field: string;
  /** What it is, in words. */
  readonly label: string;
  readonly unit: Unit;
  /** SI. */
  readonly value: number;
  readonly from: WireOrigin;
  /**
   * One honest range of a value that was worked out or left at its default, SI; a given one is taken as it is. What
   * moves a worked-out value is in its own range, so inputs of the formulas have none beside it.
   */
  readonly range: { readonly low: number; readonly high: number } | undefined;
  /** How it was found, and what that leaves out. */
  readonly how: string;
}

interface Entry {
  readonly field: string;
  readonly label: string;
  readonly unit: Unit;
  readonly how: string;
  /** The range of a worked-out value: as factors, or from the geometry with the wires as near and as far as may be. */
  readonly range: readonly [number, number] | ((values: WireValues) => number);
}

const WORKED_OUT: readonly Entry[] = [
  {
    field: '/wire/resistancePerCore',
    label: 'resistance of the sense wire, per core',
    unit: 'ohm',
    how: 'the metal at 25 °C (copper: IEC 60028) by bare diameter and length; fine wire has its diameter to some 3 %',
    range: [0.93, 1.08],
  },
  {
    field: '/wire/inductancePerCore',
    label: 'inductance of the sense wire, per core',
    unit: 'H',
    how: "straight runs beside each other (Rosa's formulas); other wires and planes nearby are left out",
    range: [0.7, 1.15],
  },
  {
    field: '/wire/capacitancePerCore',
    label: 'capacitance of the sense wire, per core',
    unit: 'F',
    how: 'bare wires in air, beside one drive wire and across the other; enamel, ferrite and planes are left out',
    range: [0.7, 3],
  },
  {
    field: '/wire/mutualX',
    label: 'air coupling of an X line, per crossing',
    unit: 'H',
    how: "Neumann's integral along the wire's course; where the wires lie in the holes is not known; leads beside leads are mat.leads.mutual",
    range: (values) => values.mutualX,
  },
  {
    field: '/wire/mutualY',
    label: 'air coupling of a Y line, per crossing',
    unit: 'H',
    how: "Neumann's integral along the wire's course; where the wires lie in the holes is not known",
    range: (values) => values.mutualY,
  },
  {
    field: '/wire/couplingCapacitance',
    label: 'capacitance to a drive line, per crossing',
    unit: 'F',
    how: 'the mean of beside and across, bare wires in air',
    range: [0.5, 3],
  },
  ...(['x', 'y'] as const).flatMap((line): Entry[] => [
    {
      field: `/drive/${line}/resistance`,
      label: `resistance of line ${line.toUpperCase()}`,
      unit: 'ohm',
      how: 'the metal at 25 °C, through every mat and both leads',
      range: [0.93, 1.08],
    },
    {
      field: `/drive/${line}/inductance`,
      label: `inductance of line ${line.toUpperCase()}, cores not counted`,
      unit: 'H',
      how: "straight through every mat (Rosa's formula), leads as a pair; how the leads are dressed is not known",
      range: [0.7, 1.5],
    },
  ]),
];

const INPUTS: readonly Omit<Entry, 'range' | 'unit'>[] = [
  { field: '/mat/pitch', label: 'pitch of the cores', how: '1.6 outside diameters of a core' },
  { field: '/mat/spacing', label: 'distance from mat to mat', how: 'our own choice' },
  { field: '/mat/leads/length', label: 'leads of a drive line, there and back', how: 'our own choice' },
  { field: '/mat/leads/distance', label: 'distance between the two leads', how: 'our own choice' },
  { field: '/wire/diameter', label: 'outside diameter of the wires', how: 'our own choice' },
  { field: '/wire/bareDiameter', label: 'bare diameter of the wires', how: '0.89 of the outside diameter' },
  { field: '/wire/distance', label: 'sense wire to drive wire in a hole', how: 'half the hole, on average' },
];

/**
 * Every value about wires that the network runs on, and every length it was worked out from: value, where it comes
 * from, and its honest range. The ledger of assumptions lists what was not given.
 */
export function wireSources(design: Design): readonly WireSource[] {
  const { diameter, distance } = design.wire;
  const hole = design.core.parameters.insideDiameter;
  const near = wireValues(geometryAt(design, diameter));
  const far = wireValues(geometryAt(design, Math.max(distance, hole - diameter)));
  const worked = WORKED_OUT.map(({ range, ...entry }): WireSource => {
    const { value, from } = originOf(design, entry.field);
    if (from === 'given') return { ...entry, value, from, range: undefined, how: 'stated in the design' };
    const ends =
      typeof range === 'function'
        ? [range(near), range(far), ...(acrossOnly(design, entry.field) ? [-range(near)] : [])]
        : range.map((factor) => factor * value);
    return { ...entry, value, from, range: { low: Math.min(...ends), high: Math.max(...ends) } };
  });
  const inputs = INPUTS.map((entry): WireSource => {
    const { value, from } = originOf(design, entry.field);
    const how = from === 'given' ? 'stated in the design' : entry.how;
    return { ...entry, how, unit: 'm', value, from, range: undefined };
  });
  return [...worked, ...inputs];
}

const geometryAt = ({ mat, winding, wire }: Design, distance: number): WireGeometry => ({
  mat,
  winding,
  wire: { material: wire.material, bareDiameter: wire.bareDiameter, distance },
});

/** A wire that lies across the lines couples by its turns and leads alone, with a sign that changes from line to line. */
const acrossOnly = ({ winding }: Design, field: string): boolean =>
  (field === '/wire/mutualY' && winding.kind.startsWith('shared')) ||
  (field === '/wire/mutualX' && winding.kind === 'separate-rectangular');

function originOf(design: Design, field: string): { readonly value: number; readonly from: WireOrigin } {
  const value = valueAt(design, field) as number;
  const filled = design.filled[field];
  return { value, from: filled?.value === value ? filled.from : 'given' };
}
