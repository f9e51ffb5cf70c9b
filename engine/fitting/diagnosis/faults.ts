import type { Fault } from './fault.ts';
import { CORE_FAULTS } from './faults-core.ts';
import { DRIVE_FAULTS } from './faults-drive.ts';
import { WIRE_FAULTS } from './faults-wire.ts';

/** Every single fault that a diagnosis tries. Several may have one code: the same fault in forms that look different. */
export const FAULTS: readonly Fault[] = [...CORE_FAULTS, ...DRIVE_FAULTS, ...WIRE_FAULTS];
