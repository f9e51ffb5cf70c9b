import type { BrokenRule } from '../design/design-error.ts';
import type { Design } from '../design/design.ts';
import { formatQuantity } from '../base/format-quantity.ts';
import { givesWay } from '../drive/line-voltage.ts';

/** A conductor lies inside its insulation, and two wires lie beside each other, not in each other. */
export function wireRules({ wire }: Design): readonly BrokenRule[] {
  const show = (value: number): string => formatQuantity(value, 'm', 3);
  const { diameter, bareDiameter, distance } = wire;
  const broken: BrokenRule[] = [];
  if (bareDiameter > diameter)
    broken.push({
      path: ['wire', 'bareDiameter'],
      sentence: `wire.bareDiameter must be at most the outside diameter, ${show(diameter)}, but is ${show(bareDiameter)}; exchange the two or correct one`,
      limit: `at most ${show(diameter)}`,
    });
  if (distance < diameter)
    broken.push({
      path: ['wire', 'distance'],
      sentence: `wire.distance must be at least the outside diameter, ${show(diameter)}, for it goes from middle to middle, but is ${show(distance)}; widen it or take thinner wire`,
      limit: `at least ${show(diameter)}`,
    });
  return broken;
}

/**
 * Air mutual inductances that the self-inductances can hold, or the network would give energy out of nothing. With n
 * crossings of mutual m each, l of the wire per core and L of the line, the quadratic form of the field's energy
 * cannot turn negative while the sum over both lines of n m^2/(l L) is at most 1 (Cauchy's inequality, section by
 * section); leads of mutual M beside sense leads of l, both ends together, add M^2/(l L) to it. Only where a line's
 * current is solved for: a prescribed one holds whatever it must.
 */
export function couplingRules(design: Design): readonly BrokenRule[] {
  const { mat, wire, drive } = design;
  const byLeads = leadShare(design);
  const lines = (['x', 'y'] as const).map((line) => {
    const name = line === 'x' ? ('mutualX' as const) : ('mutualY' as const);
    const crossings = line === 'x' ? mat.columns : mat.rows;
    const { inductance } = drive[line];
    const mutual = wire[name];
    const held = wire.inductancePerCore * inductance;
    const part = mutual === 0 || !givesWay(design, line) ? 0 : (crossings * mutual ** 2) / held;
    return { line, name, mutual, inductance, part };
  });
  const crossing = lines.reduce((sum, { part }) => sum + part, 0);
  const whole = crossing + byLeads;
  if (whole <= 1 || crossing === 0 || byLeads >= 1) return [];
  const worst = lines[0]!.part >= lines[1]!.part ? lines[0]! : lines[1]!;
  const limit = formatQuantity(Math.abs(worst.mutual) * Math.sqrt((1 - byLeads) / crossing), 'H', 3);
  return [
    {
      path: ['wire', worst.name],
      sentence: `wire.${worst.name} must be at most ${limit} to either side beside ${formatQuantity(wire.inductancePerCore, 'H', 3)} of wire a core and ${formatQuantity(worst.inductance, 'H', 3)} of line ${worst.line.toUpperCase()}, for no two wires couple more than wholly, but is ${formatQuantity(worst.mutual, 'H', 3)}; lower it or raise drive.${worst.line}.inductance`,
      limit,
    },
  ];
}

/** What leads beside leads take of the sum above: M^2/(l L) of each line whose current is solved for. */
function leadShare(design: Design): number {
  const { mat, drive } = design;
  if (mat.leads.mutual === 0) return 0;
  return (['x', 'y'] as const)
    .filter((line) => givesWay(design, line))
    .reduce((sum, line) => sum + mat.leads.mutual ** 2 / (senseLeads(design) * drive[line].inductance), 0);
}

/** H of the sense wire's leads, both ends together. */
const senseLeads = ({ wire }: Design): number => 2 * wire.cable.impedance * wire.cable.delay;

/** Leads couple with leads that are there, and no more than wholly. */
export function leadRules(design: Design): readonly BrokenRule[] {
  const { mutual } = design.mat.leads;
  const path = ['mat', 'leads', 'mutual'];
  const told = formatQuantity(mutual, 'H', 3);
  const held = senseLeads(design);
  if (mutual !== 0 && held === 0)
    return [
      {
        path,
        sentence: `mat.leads.mutual must be 0 H where the sense wire has no leads (wire.cable.delay is 0), but is ${told}; give wire.cable its delay and impedance`,
        limit: '0 H',
      },
    ];
  const share = leadShare(design);
  if (share <= 1) return [];
  const limit = formatQuantity(Math.abs(mutual) / Math.sqrt(share), 'H', 3);
  return [
    {
      path,
      sentence: `mat.leads.mutual must be at most ${limit} to either side beside ${formatQuantity(held, 'H', 3)} of sense leads, for no two wires couple more than wholly, but is ${told}; lower it or lengthen wire.cable`,
      limit,
    },
  ];
}
