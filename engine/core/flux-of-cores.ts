import type { CoreState } from './state.ts';

/** Flux of many cores, Wb, one entry a core. */
export interface CoreFlux {
  readonly phi: Float64Array;
  readonly psi: Float64Array;
  /** Of each core its rings side by side (CoreState.rings); left out where cores switch as one. */
  readonly rings?: Float64Array;
}

/** State of core i. */
export function stateAt({ phi, psi, rings }: CoreFlux, i: number): CoreState {
  const state = { phi: phi[i]!, psi: psi[i]! };
  if (rings === undefined) return state;
  const each = rings.length / phi.length;
  return { ...state, rings: [...rings.subarray(i * each, (i + 1) * each)] };
}

/** Puts core i into a state. */
export function putState(flux: CoreFlux, i: number, state: CoreState): void {
  flux.phi[i] = state.phi;
  flux.psi[i] = state.psi;
  if (flux.rings === undefined) return;
  const each = flux.rings.length / flux.phi.length;
  for (let k = 0; k < each; k++) flux.rings[i * each + k] = state.rings?.[k] ?? state.phi;
}

/** @param rings of each core: 1 where cores switch as one */
export function fluxOf(states: readonly CoreState[], rings: number): CoreFlux {
  const flux: CoreFlux = {
    phi: new Float64Array(states.length),
    psi: new Float64Array(states.length),
    ...(rings > 1 ? { rings: new Float64Array(states.length * rings) } : {}),
  };
  states.forEach((state, i) => putState(flux, i, state));
  return flux;
}

export const copyFlux = ({ phi, psi, rings }: CoreFlux): CoreFlux => ({
  phi: phi.slice(),
  psi: psi.slice(),
  ...(rings ? { rings: rings.slice() } : {}),
});

/** The state of a core whose flux is `factor` times that of another, in the same condition. */
export const scaleState = ({ phi, psi, rings }: CoreState, factor: number): CoreState => ({
  phi: phi * factor,
  psi: psi * factor,
  ...(rings ? { rings: rings.map((ring) => ring * factor) } : {}),
});
