import type { CoreOrigin, CoreParameters, CoreProperty, CoreRange, CoreTest } from './core.ts';

export type CoreRanges = Readonly<Record<CoreProperty, CoreRange>>;

/** Temperature coefficients of a class of material, 1/K; from memory (M), never the expectation of a test. */
interface MaterialClass {
  readonly drive: readonly [low: number, high: number];
  readonly flux: readonly [low: number, high: number];
}
export const MATERIALS: Readonly<Record<'Mn-Mg ferrite' | 'lithium ferrite' | 'unknown', MaterialClass>> = {
  'Mn-Mg ferrite': { drive: [-0.007, -0.004], flux: [-0.003, -0.001] },
  'lithium ferrite': { drive: [-0.0025, -0.001], flux: [-0.0015, 0] },
  unknown: { drive: [-0.007, -0.001], flux: [-0.003, 0] },
};
/** Coefficients taken where nothing is known of the material, 1/K (M). */
export const UNKNOWN_MATERIAL = { drive: -0.004, flux: -0.001 } as const;

/**
 * Between which values the parameters of a core lie of which only peak, peak time and switching time of a ONE are known
 * at one drive I_m. Source of the ranges: of 500 drawn cores that give the same three readings and work as memory cores
 * (they set, and 1,024 half pulses leave under a quarter of a ONE), the 5 % and 95 % points over I_m; the model and its
 * fit to one measured core are described in core/model.ts. Ranges of the elastic and the decaying part are assumed.
 *
 * @param from where the values come from that the readings fix; the others are `assumed`, or `preset` with a preset
 */
export function usualRanges(
  p: CoreParameters,
  test: CoreTest,
  from: CoreOrigin,
  material: keyof typeof MATERIALS,
): CoreRanges {
  const I = test.fullDrive;
  const others: CoreOrigin = from === 'preset' ? 'preset' : 'assumed';
  const at = (name: CoreProperty, low: number, high: number, origin: CoreOrigin = others): CoreRange => ({
    low: Math.min(low, p[name]),
    high: Math.max(high, p[name]),
    from: origin,
  });
  const [lowThreshold, highThreshold] = [0.22 * I, 0.88 * I];
  const speed = p.switchingResistance * (I - p.dynamicThreshold);
  const reach = greatestSpread(p);
  // Elastic flux at full drive over the whole swing 2 phi_r; of one measured core under 0.09 and 0.05.
  const swing = (2 * p.remanentFlux) / I;
  // A decaying part of up to a twentieth of the peak at full drive, as slow as the core itself or slower.
  const decay = (0.05 * speed) / Math.max(I - p.decayThreshold, 0.1 * I);
  return {
    remanentFlux: at('remanentFlux', 0.9 * p.remanentFlux, 1.1 * p.remanentFlux, from),
    squareness: at('squareness', 0.83, 0.996, from),
    coerciveDrive: at('coerciveDrive', 0.52 * I, 0.86 * I),
    staticKneeWidth: at('staticKneeWidth', 0.01 * p.coerciveDrive, 0.12 * p.coerciveDrive),
    dynamicThreshold: at('dynamicThreshold', lowThreshold, highThreshold),
    dynamicKneeWidth: at('dynamicKneeWidth', 0.01 * p.dynamicThreshold, 0.1 * p.dynamicThreshold),
    switchingResistance: at(
      'switchingResistance',
      speed / (I - lowThreshold),
      speed / (I - highThreshold),
      from,
    ),
    ringSpread: at('ringSpread', 0, Math.min(0.21, reach)),
    elasticSaturated: at('elasticSaturated', 0.02 * swing, 0.12 * swing),
    elasticKnee: at('elasticKnee', 0.02 * swing, 0.15 * swing),
    elasticBend: at('elasticBend', 0.5 * p.elasticBend, 2 * p.elasticBend),
    decayResistance: at('decayResistance', 0, decay),
    decayCharge: at('decayCharge', p.decayCharge / 3, 3 * p.decayCharge),
    decayThreshold: at('decayThreshold', 0.6 * p.decayThreshold, 1.2 * p.decayThreshold),
    driveTemperatureCoefficient: at('driveTemperatureCoefficient', ...MATERIALS[material].drive),
    fluxTemperatureCoefficient: at('fluxTemperatureCoefficient', ...MATERIALS[material].flux),
  };
}

/** (OD - ID)/(OD + ID): no spread of thresholds is wider (core/geometry.ts). */
const greatestSpread = (p: CoreParameters): number =>
  (p.outsideDiameter - p.insideDiameter) / (p.outsideDiameter + p.insideDiameter);

/** A value taken at its word: no range. */
export const exactly = (value: number): CoreRange => ({ low: value, high: value, from: 'given' });

/** A value that is known to a share of itself. */
export const within = (value: number, share: number, from: CoreOrigin): CoreRange => ({
  low: value - share * Math.abs(value),
  high: value + share * Math.abs(value),
  from,
});
