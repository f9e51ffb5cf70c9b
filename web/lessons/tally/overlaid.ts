import type { Line } from '../../charts/marks.ts';
import { traceChart } from '../../charts/trace-chart.ts';
import { samplesOn } from '../../model/traces.ts';
import { courseStep, givenOf } from '../made/course-steps.ts';
import { drawTimes, topOf } from '../made/evaluate.ts';
import { levelVolts } from '../made/levels.ts';
import { isOwn } from '../made/lesson.ts';
import { drawnSamples } from '../made/own-chart.ts';
import type { Step, StepResult } from '../step.ts';
import type { StepTally } from './step-tally.ts';
import { spanOfLines } from '../span-of-lines.ts';

interface Drawings {
  readonly at: readonly number[];
  readonly drawn: readonly (readonly number[])[];
  /** What is so: one curve, or one for each value of a varied input. */
  readonly so: readonly { readonly time: Float64Array; readonly values: Float64Array }[];
}

/** The class's drawings; undefined where nothing was to be drawn. */
export function drawingsOf({ step, answers, result }: StepTally): Drawings | undefined {
  if (!isOwn(step)) return result && courseDrawings(courseStep(step.course), result, answers);
  const { ask } = step;
  if (ask.kind !== 'draw') return undefined;
  const so = new Map(
    answers.flatMap(({ evaluated, value }) =>
      evaluated ? [[value, evaluated.shown.lines[0]!] as const] : [],
    ),
  );
  const drawn = answers.flatMap(({ coded }) =>
    coded.kind === 'levels' ? [coded.levels.map((level) => levelVolts(topOf(ask), level))] : [],
  );
  return { at: drawTimes(ask), drawn, so: [...so.values()] };
}

function courseDrawings(
  step: Step,
  { truth }: StepResult,
  answers: StepTally['answers'],
): Drawings | undefined {
  if (step.ask.kind !== 'draw') return undefined;
  const { at } = step.ask;
  const drawn = answers.flatMap(({ coded }) => {
    const given = givenOf(step.ask, coded);
    return given.kind === 'draw' ? [given.values] : [];
  });
  return { at, drawn, so: truth.kind === 'draw' ? [truth.curve] : [] };
}

/** All drawings thin over one another, under what is so. */
export function overlaidChart(
  { at, drawn, so }: Drawings,
  {
    id,
    name,
    width,
    em,
  }: { readonly id: string; readonly name: string; readonly width: number; readonly em: number },
): SVGSVGElement {
  const lines: Line[] = [
    ...drawn.map((values) => ({ style: 'total' as const, samples: drawnSamples(at, values) })),
    ...so.map(({ time, values }) => ({ style: 'one' as const, samples: samplesOn(time, values) })),
  ];
  const [from, to] = [at[0]!, at.at(-1)!];
  const { node } = traceChart({
    id,
    name,
    width,
    height: 240 * em,
    em,
    time: { from, to },
    value: spanOfLines(lines, { from, to }),
    quantity: { symbol: 'u', unit: 'V' },
    lines,
  });
  node.classList.add('overlaid');
  return node;
}
