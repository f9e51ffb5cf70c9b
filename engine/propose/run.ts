import type { Design } from '../design/design.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';

export type Run = (design: Design, options?: SimulateOptions) => Simulation;
