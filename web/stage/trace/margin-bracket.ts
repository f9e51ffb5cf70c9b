import { sampleAt } from '../../charts/decimate.ts';
import type { Placed } from '../../charts/labels.ts';
import type { Spaces } from '../../charts/spaces.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { samplesOf } from '../../model/traces.ts';
import { h, s } from '../../ui/dom.ts';
import type { Judged } from './main-data.ts';
import type { MainPanelCallbacks } from './main-data.ts';

/** px beside the strobe line at which the bracket stands. */
const BESIDE = 9;
const CAP = 4;

interface BracketSide {
  /** V: from the edge of the threshold's band to the worst case at the strobe. */
  readonly edge: number;
  readonly worst: number;
}

/** What is left on either side of the threshold's band at the strobe. */
function sidesOf({ run, strobe }: Judged): readonly [one: BracketSide, zero: BracketSide] {
  const { envelope, time, level } = strobe;
  const uncertain = run.ensemble?.uncertainties.threshold ?? 0;
  return [
    { edge: level + uncertain, worst: sampleAt(samplesOf(run, envelope.one), time) },
    { edge: level - uncertain, worst: sampleAt(samplesOf(run, envelope.zero), time) },
  ];
}

/** px of a level that is held within the plot. */
const inPlot = ({ y, margins, height }: Spaces, volts: number): number =>
  Math.min(Math.max(y(volts), margins.top), height - margins.bottom);

/** What is left, beside the lesser side of the bracket. */
export function bracketText(spaces: Spaces, judged: Judged, em: number): Placed {
  const { edge, worst } = sidesOf(judged)[lesserOf(judged)]!;
  const y = (inPlot(spaces, edge) + inPlot(spaces, worst)) / 2 + 4 * em;
  const text = `${formatQuantity(judged.strobe.margin.left, 'V', 3)} left`;
  return { x: spaces.x(judged.strobe.time) + BESIDE * em + CAP + 3, y, text };
}

const lesserOf = ({ strobe: { margin } }: Judged): 0 | 1 => (margin.one <= margin.zero ? 0 : 1);

/** A bracket from the threshold's band to each worst case; the lesser is heavy and says what is left. */
export function drawBracket(spaces: Spaces, judged: Judged, em: number): SVGGElement {
  const x = spaces.x(judged.strobe.time) + BESIDE * em;
  const sides = sidesOf(judged).map(({ edge, worst }, i) => {
    const [a, b] = [inPlot(spaces, edge), inPlot(spaces, worst)];
    const d = `M${x - CAP},${a}H${x + CAP}M${x},${a}V${b}M${x - CAP},${b}H${x + CAP}`;
    return s('path', { d, class: i === lesserOf(judged) ? 'margin-bracket lesser' : 'margin-bracket' });
  });
  const { text, ...place } = bracketText(spaces, judged, em);
  return s('g', { class: 'margin-brackets' }, ...sides, s('text', { ...place, class: 'direct-label' }, text));
}

let drags = 0;

/**
 * Takes the bracket itself: along the time axis it moves the strobe, up and down the threshold, both as one step of
 * undo. For the pointer alone; the two grips are there for keys.
 */
export function createBracketGrip(
  callbacks: MainPanelCallbacks,
  at: { time(event: PointerEvent): number; value(event: PointerEvent): number },
): { readonly node: HTMLElement; place(spaces: Spaces, judged: Judged | undefined): void } {
  const node = h('div', { class: 'bracket-grip', 'aria-hidden': 'true', hidden: true });
  let held: { readonly time: number; readonly level: number } | undefined;
  let from = { time: 0, level: 0, x: 0, y: 0 };
  let gesture = '';
  node.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || !held) return;
    event.preventDefault();
    gesture = `bracket-${++drags}`;
    from = {
      time: at.time(event) - held.time,
      level: at.value(event) - held.level,
      x: event.clientX,
      y: event.clientY,
    };
    node.setPointerCapture(event.pointerId);
  });
  node.addEventListener('pointermove', (event) => {
    if (!node.hasPointerCapture(event.pointerId)) return;
    // A hand along one axis keeps the other quantity as it stands.
    if (Math.abs(event.clientX - from.x) > 3) callbacks.onStrobe(at.time(event) - from.time, gesture);
    if (Math.abs(event.clientY - from.y) > 3) callbacks.onThreshold(at.value(event) - from.level, gesture);
  });
  node.addEventListener('lostpointercapture', () => callbacks.onGestureEnd());
  return {
    node,
    place(spaces, judged) {
      held = judged?.strobe;
      const { x } = spaces;
      const time = held?.time ?? 0;
      const [from, to] = x.domain() as [number, number];
      node.hidden = !judged || time < from || time > to;
      if (!judged || node.hidden) return;
      const [one, zero] = sidesOf(judged);
      const clamp = (volts: number) => inPlot(spaces, volts);
      const top = Math.min(clamp(one.worst), clamp(one.edge), clamp(zero.worst));
      const bottom = Math.max(clamp(zero.worst), clamp(zero.edge), clamp(one.worst));
      node.style.left = `${x(time) + 2}px`;
      node.style.top = `${top}px`;
      node.style.height = `${Math.max(24, bottom - top - 24)}px`;
    },
  };
}
