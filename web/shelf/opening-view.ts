import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { distanceUnits } from '../../engine/strobe/best-pair.ts';
import { openingChart } from '../charts/opening-chart.ts';
import type { Spaces } from '../charts/spaces.ts';
import { h, put } from '../ui/dom.ts';
import { openingsOf, sizeOfRegion, type Openings } from '../charts/opening.ts';
import type { Run } from '../model/run.ts';
import type { ChartData } from '../sharing/chart-data.ts';
import type { StrobeState } from '../model/strobe-state.ts';
import { createFigure } from '../sharing/figure.ts';
import { createMore } from '../sharing/more.ts';

export interface OpeningCallbacks {
  /** Both are placed at once: s, V. */
  readonly onPlace: (time: number, threshold: number) => void;
}

export interface OpeningView {
  readonly node: HTMLElement;
  update(run: Run, strobe: StrobeState, em: number): void;
}

const volts = (value: number): string => formatQuantity(value, 'V', 3);
const seconds = (value: number): string => formatQuantity(value, 's', 4);

/** The opening in the plane of strobe time and threshold; a click takes both. */
export function createOpeningView(callbacks: OpeningCallbacks): OpeningView {
  let shown: Parameters<OpeningView['update']> | undefined;
  let spaces: Spaces | undefined;
  const take = h(
    'button',
    {
      type: 'button',
      click: () => {
        const best = shown?.[1].bestPair;
        if (best) callbacks.onPlace(best.time, best.threshold);
      },
    },
    'Take the best pair',
  );
  const figure = createFigure({
    title: 'Where strobe and threshold pass',
    tools: [take],
    className: 'opening',
  });
  const told = h('p', { class: 'note' });
  const key = h(
    'p',
    { class: 'note small' },
    'Thin line: ONE over and ZERO under the threshold. Shaded: with what is stated as uncertain taken off. Hatched, dashed edge: at the corners of the tolerances too. Box about the dot: what is uncertain of strobe and threshold; dashed box: the greatest of that shape that fits. A click places strobe and threshold together.',
  );
  figure.body.after(told, key);
  const more = createMore('The opening: strobe against threshold', () => draw(), figure.node);

  figure.body.addEventListener('click', (event) => {
    if (!spaces) return;
    const { x, y, margins, width, height } = spaces;
    const place = figure.body.getBoundingClientRect();
    const [px, py] = [event.clientX - place.left, event.clientY - place.top];
    const inside =
      px >= margins.left && px <= width - margins.right && py >= margins.top && py <= height - margins.bottom;
    if (inside) callbacks.onPlace(Math.max(0, x.invert(px)), y.invert(py));
  });

  function draw(): void {
    if (!shown || !more.node.open) return;
    const [run, strobe, em] = shown;
    const { ensemble } = run;
    if (!ensemble) return;
    const { time } = ensemble.envelope;
    const step = time.length > 1 ? time[1]! - time[0]! : 1e-9;
    const openings = openingsOf(ensemble);
    const { uncertainties } = ensemble;
    const best = strobe.bestPair;
    const units = distanceUnits(ensemble.envelope, uncertainties);
    const width = Math.min(figure.body.clientWidth, 900 * em);
    const summary = openingSummary(strobe, openings, step);
    const chart = openingChart({
      name: 'Where strobe and threshold pass: threshold against strobe time',
      openings,
      step,
      inForce: { time: strobe.time, threshold: strobe.level },
      best,
      uncertain: { time: uncertainties.guard, threshold: uncertainties.threshold },
      bestBox: best && {
        time: best.distance * units.time,
        threshold: best.distance * units.voltage,
      },
      width,
      height: Math.max(240 * em, Math.min(380 * em, width * 0.55)),
      em,
    });
    spaces = chart.spaces;
    put(figure.body, chart.node);
    take.disabled = best === undefined;
    put(told, bestText(strobe));
    figure.update(() => openingData(run, openings, summary, chart.node));
  }

  return {
    node: more.node,
    update(...next) {
      shown = next;
      draw();
    },
  };
}

function bestText({ bestPair: best, time, level, corners }: StrobeState): string {
  if (!best) return 'No pair: the least ONE is nowhere above the greatest ZERO.';
  const fits = `${best.distance.toFixed(1)} times what is uncertain fits about it`;
  const here = `In force: ${seconds(time)} and ${volts(level)}.`;
  const atCorners = !corners
    ? ''
    : corners.bestPair
      ? ` At the corners the best pair is ${seconds(corners.bestPair.time)} and ${volts(corners.bestPair.threshold)}.`
      : ' At the corners nothing is open.';
  return `Best pair: ${seconds(best.time)} and ${volts(best.threshold)}; ${fits}. ${here}${atCorners}`;
}

export function openingSummary(strobe: StrobeState, openings: Openings, step: number): string {
  const clause = (name: string, region: Openings['exact'] | undefined): string => {
    const size = region && sizeOfRegion(region, step);
    return size
      ? `${name} it reaches from ${seconds(size.from)} to ${seconds(size.to)} and from ${volts(size.low)} to ${volts(size.high)}`
      : `${name} nothing is open`;
  };
  return (
    `Strobe times and thresholds at which every ONE and every ZERO is read right. ${[
      clause('Taken exactly', openings.exact),
      clause('with the stated uncertainties', openings.stated),
      ...(openings.corners ? [clause('at the corners of the tolerances', openings.corners)] : []),
    ].join('; ')}. ${bestText(strobe)}` + (strobe.reason ? ` ${strobe.reason}` : '')
  );
}

function openingData(run: Run, openings: Openings, summary: string, svg: SVGSVGElement): ChartData {
  const { exact } = openings;
  const bands = (region: Openings['exact'] | undefined, end: 'low' | 'high') => {
    const known = new Map((region ?? []).map((place) => [place.time, place[end]]));
    return exact.map(({ time }) => known.get(time) ?? 'closed');
  };
  const pair = (name: string, region: Openings['exact'] | undefined) =>
    (['low', 'high'] as const).map((end) => ({
      title: `${name}, ${end === 'low' ? 'from' : 'to'} / V`,
      values: bands(region, end),
    }));
  return {
    file: 'opening',
    title: 'Thresholds that pass at each strobe time',
    summary,
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'strobe / s', values: exact.map(({ time }) => time) },
      ...pair('exact', exact),
      ...pair('with uncertainties', openings.stated),
      ...(openings.corners ? pair('at the corners', openings.corners) : []),
    ],
  };
}
