import type * as z from 'zod';
import type { Design } from '../../design/design.ts';
import type { SimulateOptions, Simulation } from '../../solver/result.ts';
import type { Json, Patch } from '../../base/json-patch.ts';

/** The shapes every study shares. All of them are plain JSON values: they travel between workers and machines. */

export const STUDY_KINDS = [
  'scale',
  'shmoo',
  'tolerance',
  'temperature',
  'rate',
  'pattern',
  'sensitivity',
] as const;
export type StudyKind = (typeof STUDY_KINDS)[number];

/** One unit of work. It depends on nothing but the plan's design, options and seed and on its own index. */
export interface Point {
  /** What a reader sees, e.g. `32 x 32, shared two halves`; failed points are kept under it. */
  readonly name: string;
  /** Applied to the raw design, in order. */
  readonly patches: readonly Patch[];
  /** Values that the kind reads back: axes of its charts, numbers of draws. */
  readonly inputs: { readonly [key: string]: Json };
}

/** Options of a plan, complete with their defaults, SI; plain JSON. Each kind has a type of its own. */
export type StudyOptions = Readonly<Record<string, unknown>>;

/** The whole study before a single run, and all that another machine needs to compute any of its points. */
export interface StudyPlan<Options extends StudyOptions = StudyOptions> {
  readonly kind: StudyKind;
  /** The raw design as it was given. */
  readonly design: Json;
  readonly options: Options;
  readonly seed: number;
  readonly points: readonly Point[];
  /** Strobe and threshold of the nominal design that points with a fixed strobe are read at (s, V). */
  readonly nominal: { readonly time: number; readonly threshold: number } | null;
  /** Simulation runs of all points together, at most. */
  readonly runs: number;
}

/** What one point gave. `values` are the columns of the study's table: SI numbers, null where there is none. */
export interface PointResult {
  readonly index: number;
  readonly name: string;
  /** Undefined when the point was computed; else one sentence why not. */
  readonly failed?: string;
  readonly values: { readonly [column: string]: number | string | boolean | null };
  /** What the kind's charts need beyond the table. */
  readonly data?: Json;
}

/** A column of the table: SI unit ('' for counts and ratios, 'text' for words). */
export interface Column {
  readonly key: string;
  readonly label: string;
  readonly unit: string;
  /** Key of the value that names the unit of this one, where every row has its own; `unit` is empty then. */
  readonly unitKey?: string;
}

/** A line of a chart. `point[k]` is the index of the plan's point that (x[k], y[k]) came from, -1 for none. */
export interface Series {
  readonly name: string;
  /** Series of one panel share axes. */
  readonly panel: string;
  readonly xLabel: string;
  readonly xUnit: string;
  readonly yLabel: string;
  readonly yUnit: string;
  readonly x: readonly number[];
  readonly y: readonly (number | null)[];
  readonly point: readonly number[];
  /** A limit is drawn as a boundary rather than as data. */
  readonly role: 'data' | 'limit' | 'law';
}

/** A place of a map, SI. */
export interface MapPlace {
  readonly x: number;
  readonly y: number;
}

/** Pass and margin over two inputs. */
export interface StudyMap {
  readonly xLabel: string;
  readonly xUnit: string;
  readonly yLabel: string;
  readonly yUnit: string;
  readonly cells: readonly {
    readonly x: number;
    readonly y: number;
    /** V; null where the run failed. */
    readonly margin: number | null;
    readonly pass: boolean;
    readonly point: number;
  }[];
  /**
   * Places where pass turns into fail, found by halving along a row (`along` x) or column (y): within `within` of
   * it. `side` +1: passes toward larger values of that axis.
   */
  readonly edge: readonly {
    readonly x: number;
    readonly y: number;
    readonly side: 1 | -1;
    readonly within: number;
    readonly along: 'x' | 'y';
  }[];
  /** The traced edge in straight pieces; it passes toward (passX, passY), signs only. */
  readonly contour: readonly {
    readonly x1: number;
    readonly y1: number;
    readonly x2: number;
    readonly y2: number;
    readonly passX: number;
    readonly passY: number;
  }[];
  readonly nominal: MapPlace;
}

export interface Histogram {
  readonly label: string;
  readonly unit: string;
  /** Bin edges, one more than counts. */
  readonly edges: readonly number[];
  readonly counts: readonly number[];
  /** Where pass begins. */
  readonly limit: number;
}

/** A number with its interval, rounded to two significant digits of uncertainty when printed. */
export interface Estimate {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Which interval, e.g. `95 % Wilson`. */
  readonly interval: string;
  readonly samples: number;
  readonly seed: number;
}

/**
 * The answer of a study: complete in itself, chart-ready, mergeable (it holds plan and results), plain JSON. Numbers are
 * SI; each column and estimate names its unit.
 */
export interface StudyResult {
  readonly kind: StudyKind;
  readonly seed: number;
  /** True when some of the plan's points have no result (cancelled, or one shard of several). */
  readonly partial: boolean;
  readonly count: { readonly planned: number; readonly done: number; readonly failed: number };
  /** Points that could not be computed, by name. */
  readonly failed: readonly { readonly index: number; readonly name: string; readonly message: string }[];
  /** The findings, one sentence each. */
  readonly findings: readonly string[];
  readonly estimates: readonly Estimate[];
  readonly columns: readonly Column[];
  readonly series: readonly Series[];
  readonly map: StudyMap | null;
  readonly histogram: Histogram | null;
  /** Ranked table of causes: share of variance or size of effect. */
  readonly ranking: readonly {
    readonly name: string;
    readonly path: string;
    readonly value: number;
    readonly unit: string;
    readonly note: string;
    /** Index of the point that it came from, where it is one point. */
    readonly point?: number;
  }[];
  /** Points worth opening, worst first. */
  readonly open?: readonly { readonly point: number; readonly why: string }[];
  readonly plan: StudyPlan;
  readonly results: readonly PointResult[];
}

/** What a point is computed with; tests and a cancellable worker put their own in. */
export interface StudyTools {
  readonly checkDesign: (raw: unknown) => Design;
  readonly simulate: (design: Design, options?: SimulateOptions) => Simulation;
  /** Told now and then what share of a long point is done, 0..1. */
  readonly progress?: (share: number) => void;
  /** Polled by long points; a point that is cancelled fails. */
  readonly cancelled?: () => boolean;
}

/** A study's options are refused: code, JSON pointer into the request, one sentence, and the limit if it is one. */
export class StudyError extends Error {
  readonly code: string;
  readonly field: string;
  readonly limit: number | undefined;
  constructor(code: string, field: string, message: string, limit?: number) {
    super(message);
    this.name = 'StudyError';
    this.code = code;
    this.field = field;
    this.limit = limit;
  }
}

/**
 * How a kind plugs in: its options, plan, evaluate one point, put the results together. Methods, so that a kind with
 * options of its own type fits the table of all.
 */
export interface StudyPart<Options extends StudyOptions = StudyOptions> {
  /** Every option with unit, default, range and meaning: the one source of checks, schema, help and hints. */
  readonly options: z.ZodType;
  /** The raw design that a point stands for, where its patches alone do not say it. `at`: a place of a map. */
  open?(plan: StudyPlan<Options>, point: Point, tools: StudyTools, at?: MapPlace): Json;
  plan(request: StudyRequest, design: Design, tools: StudyTools): StudyPlan<Options>;
  /** Class-steps of all points, from above, where they are not all of the nominal design's size. */
  price?(plan: StudyPlan<Options>, tools: StudyTools): number;
  /** Reads plan.design, options, seed and nominal, and this one point. */
  evaluate(plan: StudyPlan<Options>, point: Point, tools: StudyTools): Omit<PointResult, 'index' | 'name'>;
  summarise(
    plan: StudyPlan<Options>,
    results: readonly PointResult[],
  ): Pick<
    StudyResult,
    'findings' | 'estimates' | 'columns' | 'series' | 'map' | 'histogram' | 'ranking' | 'open'
  >;
}

export interface StudyRequest {
  readonly kind: StudyKind;
  /** Raw design JSON, as `checkDesign` takes it. */
  readonly design: Json;
  readonly options?: { readonly [key: string]: Json };
}
