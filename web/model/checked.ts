import type { Design } from '../../engine/design/design.ts';

/** A fault of the design as typed, to be shown beside the field it names. */
export interface FieldFault {
  readonly field: string;
  readonly message: string;
}

/** A design as typed once it was checked: what it stands for, or what is wrong with it. */
export interface Checked {
  readonly design: Design | undefined;
  readonly faults: readonly FieldFault[];
}
