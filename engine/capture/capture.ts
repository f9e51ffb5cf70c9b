/** A capture: what an instrument recorded, as read from text. SI throughout. */
export interface Capture {
  /** s, strictly rising, from wherever the instrument set its zero. */
  readonly time: Float64Array;
  readonly traces: readonly CaptureTrace[];
  /** s, median distance between samples. */
  readonly sampleInterval: number;
  /** True when no distance differs from the median by more than a hundredth of it. */
  readonly uniform: boolean;
}

export interface CaptureTrace {
  readonly name: string;
  readonly unit: 'V' | 'A';
  readonly value: Float64Array;
}

export const DELIMITERS = ['tab', 'semicolon', 'bar', 'comma', 'space', 'none'] as const;
export type Delimiter = (typeof DELIMITERS)[number];
export type DecimalMark = 'point' | 'comma';
export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
export const TIME_UNITS = { s: 1, ms: 1e-3, us: 1e-6, ns: 1e-9, ps: 1e-12 } as const;
export type TimeUnit = keyof typeof TIME_UNITS;
export const VALUE_UNITS = { V: 1, mV: 1e-3, uV: 1e-6, A: 1, mA: 1e-3, uA: 1e-6 } as const;
export type ValueUnit = keyof typeof VALUE_UNITS;

/** Every field overrides what the text itself says; an answer to an ambiguity is such an override. */
export interface CaptureOptions {
  readonly encoding?: Encoding;
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalMark;
  /** Line of the first sample, from 1. */
  readonly firstLine?: number;
  /** Column of times, from 1; 0: there is none. */
  readonly timeColumn?: number;
  readonly timeUnit?: TimeUnit;
  /** Columns to read as traces, from 1 (default: all others). */
  readonly valueColumns?: readonly number[];
  /** Unit of the traces that name none. */
  readonly valueUnit?: ValueUnit;
  /** s; used when there is no column of times. */
  readonly sampleInterval?: number;
  /** A sample without a time: placed evenly between its neighbours, or left out. */
  readonly missingTimes?: 'fill' | 'drop';
  /** Samples at one and the same time: placed evenly up to the next time, or averaged. */
  readonly repeatedTimes?: 'spread' | 'average';
  /** Which of several records in one file, from 1. */
  readonly record?: number;
  /** Refused above these (defaults 64 MiB, 1,000,000 samples, 16 traces). */
  readonly maxBytes?: number;
  readonly maxSamples?: number;
  readonly maxTraces?: number;
}

export type AmbiguityCode =
  | 'layout'
  | 'time-column'
  | 'time-unit'
  | 'sample-interval'
  | 'value-unit'
  | 'missing-times'
  | 'repeated-times'
  | 'record';

/** Something that the text leaves open. Ask `question`; each choice carries the override that answers it. */
export interface Ambiguity {
  readonly code: AmbiguityCode;
  readonly question: string;
  /** Empty when a number is wanted: see `wanted`. */
  readonly choices: readonly {
    readonly label: string;
    readonly options: CaptureOptions;
    /** Of a record: its first and last line, from 1. */
    readonly lines?: readonly [number, number];
  }[];
  /** The option to fill in when there are no choices. */
  readonly wanted?: keyof CaptureOptions;
}

/** How the text was taken, to be shown with the first rows before anything is accepted. */
export interface CapturePreview {
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  /** Line of the first sample, from 1. */
  readonly firstLine: number;
  /** Lines before the samples, at most 40. */
  readonly preamble: readonly string[];
  readonly columns: readonly PreviewColumn[];
  /** Cells of the first rows as written, at most 8. */
  readonly rows: readonly (readonly string[])[];
}

export interface PreviewColumn {
  readonly name: string;
  readonly role: 'time' | 'trace' | 'left out';
  /** As understood; undefined when the text gives none. */
  readonly unit: string | undefined;
}

/** Either a capture, or questions to be answered first; the preview and the notes come with both. */
export interface CaptureReading {
  /** Undefined while something is ambiguous. */
  readonly capture: Capture | undefined;
  readonly ambiguities: readonly Ambiguity[];
  readonly preview: CapturePreview;
  /** What was decided or left out, in sentences. */
  readonly notes: readonly string[];
}

export type CaptureErrorCode =
  'too-large' | 'no-samples' | 'ragged' | 'not-a-number' | 'quote' | 'times' | 'option';

/** A capture's text that cannot be read. One sentence with line and column (a cell's number), both from 1, where known. */
export class CaptureError extends Error {
  override readonly name = 'CaptureError';
  readonly code: CaptureErrorCode;
  readonly line: number | undefined;
  readonly column: number | undefined;
  constructor(code: CaptureErrorCode, message: string, line?: number, column?: number) {
    super(message);
    this.code = code;
    this.line = line;
    this.column = column;
  }
}
