import type { Design } from '../../design/design.ts';

/** Thresholds of every core in proportion: softer when warm, harder when cold or of another make. */
export function soften(design: Design, factor: number): Design {
  const p = design.core.parameters;
  const parameters = {
    ...p,
    coerciveDrive: p.coerciveDrive * factor,
    staticKneeWidth: p.staticKneeWidth * factor,
    dynamicThreshold: p.dynamicThreshold * factor,
    dynamicKneeWidth: p.dynamicKneeWidth * factor,
    decayThreshold: p.decayThreshold * factor,
  };
  return { ...design, core: { ...design.core, parameters } };
}

/** Cores of another cross-section: all their voltages in proportion. */
export function resize(design: Design, factor: number): Design {
  const p = design.core.parameters;
  const parameters = {
    ...p,
    remanentFlux: p.remanentFlux * factor,
    switchingResistance: p.switchingResistance * factor,
    elasticSaturated: p.elasticSaturated * factor,
    elasticKnee: p.elasticKnee * factor,
  };
  return { ...design, core: { ...design.core, parameters } };
}
