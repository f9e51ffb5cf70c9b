import type { TimeSpan, Margins, ValueSpan } from '../../charts/spaces.ts';
import type { Samples } from '../../charts/decimate.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import type { TraceChartOptions } from '../../charts/trace-options.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { Simulation } from '../../../engine/solver/result.ts';

/** A run with its strobe analysis at the strobe and threshold in force. */
export interface Judged {
  readonly run: Run;
  readonly strobe: StrobeState;
}

export interface MainChartData {
  /** The last analysis; of inputs before where there are fresh reads. */
  readonly judged: Judged | undefined;
  readonly fresh: Fresh | undefined;
  readonly span: TimeSpan;
  /** What the lane shows up and down. */
  readonly value: ValueSpan;
  /** The strobe follows the best instant. */
  readonly follows: boolean;
  /** A lesson asks for what is left: neither window nor margin is told. */
  readonly marginCovered: boolean;
  /** What the reader looks at beyond the nominal cases. */
  readonly evidence: 'corners' | 'core' | undefined;
  /** The last full judgement of another design, dotted; undefined: none, or not wanted. */
  readonly before: Judged | undefined;
  /** s: marks A and B. */
  readonly marks: readonly [number, number] | undefined;
  readonly margins: Margins;
  /** A capture from the bench, as the detector would hear it. */
  readonly measured: { readonly label: string; readonly samples: Samples } | undefined;
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

export type Drawn = Pick<
  TraceChartOptions,
  'bands' | 'lines' | 'labels' | 'strobeZones' | 'thresholdZone' | 'strobe' | 'threshold' | 'flag'
>;
export interface MainPanelCallbacks {
  readonly onStrobe: (time: number, gesture: string) => void;
  readonly onThreshold: (volts: number, gesture: string) => void;
  readonly onMark: (which: 'a' | 'b', time: number) => void;
  readonly onGestureEnd: () => void;
  /** V: the reader wants to see so far up. */
  readonly onScale: (volts: number) => void;
  /** The strobe is to follow the best instant again. */
  readonly onFollow: () => void;
  /** Takes the measured trace out of the panel. */
  readonly onRemoveMeasured: () => void;
}

export interface MainPanelData extends MainChartData {
  /** s, the design's output step. */
  readonly step: number;
  /** The worst cases of the fresh reads could not be computed. */
  readonly failed: boolean;
  /** What is shown is of the inputs before the last change. */
  readonly old: boolean;
}

/** The design's own reads, newer than any analysis at hand; one of them may still be on its way. */
export interface Fresh {
  readonly design: Design;
  readonly one: Simulation | undefined;
  readonly zero: Simulation | undefined;
}
