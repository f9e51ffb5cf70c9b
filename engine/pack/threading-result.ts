import type { Place } from '../mat/wire-course.ts';

/** One core on the way of a wire. */
export interface Passed {
  readonly row: number;
  readonly column: number;
  /** Way through it in steps of the mat, x to the right, y downward. */
  readonly way: Place;
}

/** A wire to be cut, threaded and measured. */
export interface ThreadedWire {
  readonly kind: 'x' | 'y' | 'sense' | 'inhibit';
  /** Its name on every sheet: "X3", "Y0", "sense", "sense, half A", "inhibit". */
  readonly name: string;
  /** How many of it there are: one for the stack (drive lines), or one a mat. */
  readonly count: number;
  /** Where write current enters and leaves the stack: a side of a drive line, an end of the others. */
  readonly from: string;
  readonly to: string;
  /** Cores of one mat in its order; of a drive line the way of write current. */
  readonly cores: readonly Passed[];
  /** m through the mats and back to the drivers, and what to cut. */
  readonly length: number;
  readonly cut: number;
  /** ohm between its ends once it lies, at 25 °C, and the ends of what to accept. */
  readonly resistance: number;
  readonly accept: { readonly low: number; readonly high: number };
}

/** How one core sits and what passes it. */
export interface SeatedCore {
  readonly row: number;
  readonly column: number;
  /** Its disc leans like / or like \ as the sheet is held; write current passes it with `hole`. */
  readonly lean: '/' | '\\';
  readonly hole: Place;
  /** s_z as the board plans it. */
  readonly polarity: 1 | -1;
  /** False: the sense wire has to enter this core from the other side to have its polarity. */
  readonly straight: boolean;
  /** Place on the sense wire, from 1 at end A. */
  readonly place: number;
  readonly present: boolean;
}

export interface Threading {
  readonly rows: number;
  readonly columns: number;
  readonly mats: number;
  /** m. */
  readonly pitch: number;
  readonly wires: readonly ThreadedWire[];
  /** Row by row. */
  readonly cores: readonly SeatedCore[];
}
