import type { Fault } from './fault.ts';
import { CORE_FAULTS } from './faults-core.ts';
import { DRIVE_FAULTS } from './faults-drive.ts';
import { INHIBIT_FAULTS } from './faults-inhibit.ts';
import { WIRE_FAULTS } from './faults-wire.ts';

/** Every single fault that a diagnosis tries. Several may have one code: the same fault in forms that look different. */
export const FAULTS: readonly Fault[] = [...CORE_FAULTS, ...DRIVE_FAULTS, ...INHIBIT_FAULTS, ...WIRE_FAULTS];

/** Runs of each capture in which every fault is tried once at all its first severities; two lines driven at once are three runs. */
export const screeningRuns = (): number =>
  FAULTS.reduce(
    (sum, { severity, terms }) =>
      sum + (terms ? 3 : 1) * (severity === undefined ? 1 : severity.tried.length + 2),
    1,
  );
