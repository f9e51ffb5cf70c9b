import type { Quantity } from './axes.ts';
import type { LabelWish, Placed } from './labels.ts';
import type { Band, Line } from './marks.ts';
import type { Margins, Spaces, TimeSpan, ValueSpan } from './spaces.ts';

export interface TraceChartOptions {
  /** Unique on the page; patterns and the clip are named after it. */
  readonly id: string;
  readonly width: number;
  readonly height: number;
  /** Reader's text size over 16 px. */
  readonly em: number;
  /** Accessible name. */
  readonly name: string;
  readonly margins?: Margins;
  readonly time: TimeSpan;
  readonly value: ValueSpan;
  readonly quantity: Quantity;
  readonly lines: readonly Line[];
  readonly bands?: readonly Band[];
  readonly strobeZones?: readonly TimeSpan[];
  readonly thresholdZone?: ValueSpan;
  readonly labels?: readonly LabelWish[];
  /** Texts that stand already and are no wish of placing: labels keep off them. */
  readonly taken?: (spaces: Spaces) => readonly Placed[];
  /** s: thin upright lines at these instants, with a letter. */
  readonly cursors?: readonly { readonly time: number; readonly letter: string }[];
  readonly strobe?: number;
  readonly threshold?: number;
  /** V: thin dotted lines across, told in the chart's caption. */
  readonly levels?: readonly number[];
  readonly timeLabels?: boolean;
  /** px over the plot that the chart takes for the name of its upward axis, where its margin holds none. */
  readonly head?: number;
  /** Over the plot at an instant, in a frame, with words beside it. */
  readonly flag?: { readonly time: number; readonly text: string; readonly beside: string };
}
