import { coreUncertainty, type CoreUnknown } from '../core/unknowns/core-uncertainty.ts';
import type { Design } from '../design/design.ts';

const HEAT: ReadonlySet<string> = new Set(['driveTemperatureCoefficient', 'fluxTemperatureCoefficient']);

/** Is this a temperature coefficient of a core? */
export const isHeat = (parameter: string): boolean => HEAT.has(parameter);

/** Is this a temperature coefficient of which nothing is known but what such materials do? */
export const isUnknownHeat = ({
  parameter,
  from,
}: {
  readonly parameter: string;
  readonly from: string;
}): boolean => isHeat(parameter) && from === 'assumed';

/** Does the design, or a corner of it, leave the 25 °C at which a core's parameters hold? */
export const leavesRoom = ({ temperature, tolerances }: Design): boolean =>
  temperature !== 25 || tolerances.temperature > 0;

/** The temperature coefficients of a design's core of which nothing is known and that matter to it. */
export const unknownHeat = (design: Design): readonly CoreUnknown[] =>
  leavesRoom(design) ? coreUncertainty(design.core).filter(isUnknownHeat) : [];
