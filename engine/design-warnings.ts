import type { Design } from './design.ts';
import type { DesignWarning } from './design-warning.ts';
import { coreWarnings } from './warnings-core.ts';
import { driveWarnings } from './warnings-drive.ts';
import { senseWarnings } from './warnings-sense.ts';

export * from './design-warning.ts';

/** Estimates from closed forms, no run: what `check` prints and the page shows beside the cause. */
export function designWarnings(design: Design): readonly DesignWarning[] {
  return [...coreWarnings(design), ...driveWarnings(design), ...senseWarnings(design)];
}
