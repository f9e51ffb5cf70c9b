/** Values about wires for tests whose numbers were worked out with them; a design of its own may state others. */
const WIRE = {
  resistancePerCore: '20 mohm',
  inductancePerCore: '1 nH',
  capacitancePerCore: '0.08 pF',
  mutualX: '0.05 nH',
  mutualY: '0.05 nH',
  couplingCapacitance: '0.02 pF',
} as const;
const LINE = { inductance: '200 nH', resistance: '1 ohm' } as const;

type Raw = { readonly wire?: object; readonly drive?: { readonly x?: object; readonly y?: object } };

/** The raw design with every value about wires stated, so that none follows from its geometry. */
export const statedWires = <T extends object>(raw: T): T => {
  const { wire, drive } = raw as Raw;
  return {
    ...raw,
    wire: { ...WIRE, ...wire },
    drive: { ...drive, x: { ...LINE, ...drive?.x }, y: { ...LINE, ...drive?.y } },
  };
};
