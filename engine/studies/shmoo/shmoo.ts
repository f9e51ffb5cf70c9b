import { formatQuantity } from '../../base/format-quantity.ts';
import { applyPatches, type Json, type Patch } from '../../base/json-patch.ts';
import { inputPatches } from '../shared/inputs.ts';
import { mustBe, readOptions, refuseOption } from '../shared/options.ts';
import { runWork } from '../shared/price.ts';
import {
  fixedStrobe,
  freeStrobe,
  historyOf,
  historyPatches,
  makeReader,
  nominalInForce,
  runsPerReading,
} from '../shared/reading.ts';
import type { MapPlace, Point, StudyMap, StudyPart, StudyPlan, StudyTools } from '../shared/shape.ts';
import { joinEdges } from '../shared/trace-contour.ts';
import { passingInterval, scanLine, type Judge, type Sample, type Edge } from '../shared/trace-edge.ts';
import { places, completeAxis, axisJson, planAxis, type Axis } from './axes.ts';
import { shmooOptions, type ShmooOptions } from './shmoo-options.ts';
import { COLUMNS, shmooFindings } from './shmoo-words.ts';

interface LineInputs {
  readonly line: 'row' | 'column' | 'operating x' | 'operating y';
  readonly at: number;
}

/** One evaluated place of the plane, and edges along the line; kept in PointResult.data. */
interface LineData {
  readonly cells: readonly {
    readonly x: number;
    readonly y: number;
    readonly margin: number | null;
    readonly pass: boolean;
  }[];
  readonly edges: readonly {
    readonly x: number;
    readonly y: number;
    readonly side: 1 | -1;
    readonly within: number;
    readonly along: 'x' | 'y';
  }[];
  /** Cells whose design was refused or whose run failed: the first sentence. */
  readonly refused: string | null;
}

export const shmoo: StudyPart<ShmooOptions> = {
  options: shmooOptions,

  open: (plan, _point, tools, at) => placeDesign(plan, at ?? nominalPlace(plan), tools),

  plan(request, design, tools) {
    const given = readOptions(request, shmooOptions);
    const { seed, rows, columns, coarse, resolution, strobe, cases } = given;
    const nominal = nominalInForce(design, cases, tools);
    const x = completeAxis(given, 'x', design, nominal.time);
    const y = completeAxis(given, 'y', design, nominal.time);
    const history = historyOf([...x.input.paths, ...y.input.paths]);
    if (x.input.paths.some((path) => y.input.paths.includes(path)))
      refuseOption(
        ['y'],
        mustBe('an input that does not move with x', y.input.key, 'choose two independent inputs'),
      );
    const points = [
      linePoint('operating x', y.nominal, `operating margins of ${x.input.label}`),
      linePoint('operating y', x.nominal, `operating margins of ${y.input.label}`),
      ...places(y, rows).map((at) =>
        linePoint('row', at, `${y.input.label} ${formatQuantity(at, y.input.unit)}`),
      ),
      ...places(x, columns).map((at) =>
        linePoint('column', at, `${x.input.label} ${formatQuantity(at, x.input.unit)}`),
      ),
    ];
    const halvings = Math.ceil(Math.log2(1 / ((coarse - 1) * resolution)));
    return {
      kind: 'shmoo',
      design: request.design,
      options: { x: axisJson(x), y: axisJson(y), rows, columns, coarse, resolution, strobe, cases, history },
      seed,
      points,
      nominal,
      runs: points.length * (coarse + 2 * Math.max(0, halvings)) * runsPerReading(cases) * (1 + history),
    };
  },

  price(plan, tools) {
    const design = tools.checkDesign(plan.design);
    const [x, y] = [planAxis(plan, 'x'), planAxis(plan, 'y')];
    const before = historyPatches(plan.design, design, plan.options.history);
    const corners = [x.from, x.nominal, x.to].flatMap((across) =>
      [y.from, y.nominal, y.to].map((up) =>
        runWork(
          plan.design,
          [...before, ...inputPatches(x.input, design, across), ...inputPatches(y.input, design, up)],
          tools,
        ),
      ),
    );
    // The history is in the priced programme already.
    return (plan.runs / (1 + plan.options.history)) * Math.max(...corners);
  },

  evaluate(plan, point, tools) {
    const design = tools.checkDesign(plan.design);
    const [x, y] = [planAxis(plan, 'x'), planAxis(plan, 'y')];
    const { line, at } = point.inputs as unknown as LineInputs;
    const alongX = line === 'row' || line === 'operating x';
    const [moving, held] = alongX ? [x, y] : [y, x];
    const base = [
      ...historyPatches(plan.design, design, plan.options.history),
      ...strobePatches(plan),
      ...inputPatches(held.input, design, at),
    ];
    const reader = makeReader(plan, tools);
    let refused: string | null = null;
    const judge: Judge = (value) => {
      try {
        return reader.read([...base, ...inputPatches(moving.input, design, value)]);
      } catch (error) {
        refused ??= error instanceof Error ? error.message : String(error);
        return { pass: false, margin: null };
      }
    };
    const resolution = (moving.to - moving.from) * plan.options.resolution;
    const place = (value: number) => (alongX ? { x: value, y: at } : { x: at, y: value });
    const found = line.startsWith('operating')
      ? operating(moving, resolution, judge)
      : scanLine(moving.from, moving.to, plan.options.coarse, resolution, judge);
    const data: LineData = {
      cells: found.samples.map(({ x: value, margin, pass }) => ({ ...place(value), margin, pass })),
      edges: found.edges.map(({ x: value, side, within }) => ({
        ...place(value),
        side,
        within,
        along: alongX ? 'x' : 'y',
      })),
      refused,
    };
    const passing = found.samples.filter((sample) => sample.pass);
    return {
      values: {
        line,
        at,
        atUnit: held.input.unit,
        edgeUnit: moving.input.unit,
        evaluated: found.samples.length,
        passing: passing.length,
        edgeLow: found.edges.find((edge) => edge.side === 1)?.x ?? null,
        edgeHigh: found.edges.findLast((edge) => edge.side === -1)?.x ?? null,
        bestMargin: passing.reduce<number | null>(
          (best, { margin }) => Math.max(best ?? -Infinity, margin ?? -Infinity),
          null,
        ),
      },
      data: data as unknown as Json,
    };
  },

  summarise(plan, results) {
    const [x, y] = [planAxis(plan, 'x'), planAxis(plan, 'y')];
    const lines = results.map((result) => ({ result, data: result.data as unknown as LineData }));
    const edge = lines.flatMap(({ data }) => data.edges);
    const grid = lines.filter(
      ({ result }) => result.values.line === 'row' || result.values.line === 'column',
    );
    const onGrid = grid.flatMap(({ data }) => data.edges);
    const map: StudyMap = {
      xLabel: x.input.label,
      xUnit: x.input.unit,
      yLabel: y.input.label,
      yUnit: y.input.unit,
      cells: lines.flatMap(({ result, data }) =>
        data.cells.map((cell) => ({ ...cell, point: result.index })),
      ),
      edge,
      contour: joinEdges(onGrid, places(x, plan.options.columns), places(y, plan.options.rows)),
      nominal: { x: x.nominal, y: y.nominal },
    };
    const refused = lines.find(({ data }) => data.refused !== null)?.data.refused;
    return {
      findings: shmooFindings(plan, x, y, results, refused ?? undefined),
      estimates: [],
      columns: COLUMNS,
      series: [],
      map,
      histogram: null,
      ranking: [],
    };
  },
};

/** Low and high edge around the nominal as a line's samples and edges. */
function operating(
  axis: Axis,
  resolution: number,
  judge: Judge,
): { samples: readonly Sample[]; edges: readonly Edge[] } {
  const found = passingInterval(axis.nominal, axis.from, axis.to, resolution, judge);
  if (!found) return { samples: [{ x: axis.nominal, ...judge(axis.nominal) }], edges: [] };
  return { samples: found.samples, edges: [found.low, found.high].filter((edge) => edge !== undefined) };
}

const linePoint = (line: LineInputs['line'], at: number, name: string): Point => ({
  name,
  patches: [],
  inputs: { line, at },
});

function strobePatches(plan: StudyPlan<ShmooOptions>): readonly Patch[] {
  return plan.options.strobe === 'fixed' ? fixedStrobe(plan) : freeStrobe;
}

const nominalPlace = (plan: StudyPlan<ShmooOptions>): MapPlace => ({
  x: planAxis(plan, 'x').nominal,
  y: planAxis(plan, 'y').nominal,
});

/** The raw design at one place of the map. */
function placeDesign(plan: StudyPlan<ShmooOptions>, place: MapPlace, tools: StudyTools): Json {
  const design = tools.checkDesign(plan.design);
  return applyPatches(plan.design, [
    ...historyPatches(plan.design, design, plan.options.history),
    ...strobePatches(plan),
    ...inputPatches(planAxis(plan, 'x').input, design, place.x),
    ...inputPatches(planAxis(plan, 'y').input, design, place.y),
  ]);
}
