import type { CoreParameters } from '../design/core.ts';
import type { Design, FilledValue } from '../design/design.ts';
import type { Winding } from '../design/mat.ts';
import type { ReadDesignFile } from '../design/schema/design-schema.ts';
import { wireValues, type WireGeometry } from '../mat/wire-values.ts';

/**
 * Defaults about wires, m: our own choices, for a hand-wired mat; no source. A conductor takes 0.89 of the outside
 * diameter: a maker's table has 0.108 to 0.117 mm outside for 0.100 mm of enamelled wire of grade 1 (IEC 60317).
 */
const DEFAULTS = { diameter: 0.08e-3, bareShare: 0.89, spacing: 6e-3, leads: 0.1, leadsApart: 2e-3 } as const;
/** Pitch of a mat that states none, in outside diameters. */
const CORES_APART = 1.6;

type Filled = Pick<Design, 'mat' | 'wire' | 'filled'> & {
  readonly x: { readonly resistance: number; readonly inductance: number };
  readonly y: { readonly resistance: number; readonly inductance: number };
};

/** Mat, wire and drive lines with what the file left out about wires filled in; given values stay as they are. */
export function fillWires(file: ReadDesignFile, winding: Winding, core: CoreParameters): Filled {
  const filled: Record<string, FilledValue> = {};
  const fill = (
    from: FilledValue['from'],
    path: string,
    given: number | undefined,
    value: number,
  ): number => {
    if (given !== undefined) return given;
    filled[path] = { value, from };
    return value;
  };
  const diameter = fill('default', '/wire/diameter', file.wire.diameter, DEFAULTS.diameter);
  const bare = DEFAULTS.bareShare * diameter;
  const bareDiameter = fill('default', '/wire/bareDiameter', file.wire.bareDiameter, bare);
  // Wires lie anywhere in the hole, and never in each other.
  const apart = Math.max(diameter, core.insideDiameter / 2);
  const { leads } = file.mat;
  const mat = {
    ...file.mat,
    pitch: fill('default', '/mat/pitch', file.mat.pitch, CORES_APART * core.outsideDiameter),
    spacing: fill('default', '/mat/spacing', file.mat.spacing, DEFAULTS.spacing),
    leads: {
      length: fill('default', '/mat/leads/length', leads.length, DEFAULTS.leads),
      distance: fill('default', '/mat/leads/distance', leads.distance, DEFAULTS.leadsApart),
      mutual: leads.mutual,
    },
  };
  const { material } = file.wire;
  const distance = fill('default', '/wire/distance', file.wire.distance, apart);
  const geometry: WireGeometry = { mat, winding, wire: { material, bareDiameter, distance } };
  const values = wireValues(geometry);
  const wired = <K extends keyof typeof values & keyof Design['wire']>(name: K): number =>
    fill('geometry', `/wire/${name}`, file.wire[name], values[name]);
  const line = (name: 'x' | 'y'): Filled['x'] => ({
    resistance: fill(
      'geometry',
      `/drive/${name}/resistance`,
      file.drive[name].resistance,
      values[name].resistance,
    ),
    inductance: fill(
      'geometry',
      `/drive/${name}/inductance`,
      file.drive[name].inductance,
      values[name].inductance,
    ),
  });
  const wire = {
    ...file.wire,
    resistancePerCore: wired('resistancePerCore'),
    inductancePerCore: wired('inductancePerCore'),
    capacitancePerCore: wired('capacitancePerCore'),
    mutualX: wired('mutualX'),
    mutualY: wired('mutualY'),
    couplingCapacitance: wired('couplingCapacitance'),
    diameter,
    bareDiameter,
    distance,
  };
  return { mat, wire, x: line('x'), y: line('y'), filled };
}
