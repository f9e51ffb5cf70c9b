import type { CoreParameters } from '../../design/core.ts';
import type { Design } from '../../design/design.ts';

/** The design with these parameters of its core multiplied. */
function multiplied(design: Design, names: readonly (keyof CoreParameters)[], factor: number): Design {
  const old = design.core.parameters;
  const parameters = { ...old, ...Object.fromEntries(names.map((name) => [name, old[name] * factor])) };
  return { ...design, core: { ...design.core, parameters } };
}

/** Thresholds of every core in proportion: softer when warm, harder when cold or of another make. */
export const soften = (design: Design, factor: number): Design =>
  multiplied(
    design,
    ['coerciveDrive', 'staticKneeWidth', 'dynamicThreshold', 'dynamicKneeWidth', 'decayThreshold'],
    factor,
  );

/** Cores of another cross-section: all their voltages in proportion. */
export const resize = (design: Design, factor: number): Design =>
  multiplied(design, ['remanentFlux', 'switchingResistance', 'elasticSaturated', 'elasticKnee'], factor);
