import type { Design } from '../design/design.ts';
import type { DesignWarning } from './warning.ts';
import { coreWarnings } from './core.ts';
import { driveWarnings } from './drive.ts';
import { senseWarnings } from './sense.ts';

export * from './warning.ts';

/** Estimates from closed forms, no run: what `check` prints and the page shows beside the cause. */
export function designWarnings(design: Design): readonly DesignWarning[] {
  return [...coreWarnings(design), ...driveWarnings(design), ...senseWarnings(design)];
}
