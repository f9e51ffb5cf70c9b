import type { Design } from '../design/design.ts';
import type { Constraint } from './constraints/constraint.ts';
import { coreConstraints } from './constraints/core.ts';
import { driveConstraints } from './constraints/drive.ts';
import { senseConstraints } from './constraints/sense.ts';
import { supplyConstraints } from './constraints/supply.ts';

/**
 * Everything that a build must keep to beside its margin, held or not, from closed forms and no run. What is over its
 * limit is what `check` warns of and what a search for a build is kept from; what is just under it binds.
 */
export const constraints = (design: Design): readonly Constraint[] => [
  ...coreConstraints(design),
  ...driveConstraints(design),
  ...supplyConstraints(design),
  ...senseConstraints(design),
];
