import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import { PULSE_HEADER, pulseRows } from '../../../engine/strobe/window-words.ts';
import { h, put } from '../../ui/dom.ts';
import type { StrobeState } from '../../model/strobe-state.ts';

const volts = (value: number | undefined): string =>
  value === undefined ? 'none' : formatQuantity(value, 'V', 3);
const seconds = (value: number | undefined): string =>
  value === undefined ? 'none' : formatQuantity(value, 's', 4);

/** Rows of the comparison: what, as the design stands, at the corners of its tolerances. */
export function detailRows(strobe: StrobeState): (readonly [string, string, string])[] {
  const { corners, distance } = strobe;
  type Side = Pick<StrobeState, 'strobe' | 'threshold' | 'margin' | 'pulses' | 'bestPair'>;
  const both = (name: string, cell: (side: Side) => string): readonly [string, string, string] => [
    name,
    cell(strobe),
    corners ? cell(corners) : 'not yet computed',
  ];
  const edge = (side: Side, which: 'start' | 'end'): number | undefined => {
    if (side === strobe) return which === 'start' ? distance?.toStart : distance?.toEnd;
    const held = side.strobe;
    if (!held || strobe.time < held.start || strobe.time > held.end) return undefined;
    return which === 'start' ? strobe.time - held.start : held.end - strobe.time;
  };
  return [
    both('Margin of the ONE', (side) => volts(side.margin.one)),
    both('Margin of the ZERO', (side) => volts(side.margin.zero)),
    both('Window, from', (side) => seconds(side.strobe?.start)),
    both('Window, to', (side) => seconds(side.strobe?.end)),
    both('Window, width', (side) => seconds(side.strobe?.width)),
    both('From the window’s start to the strobe', (side) => distanceText(edge(side, 'start'))),
    both('From the strobe to the window’s end', (side) => distanceText(edge(side, 'end'))),
    both('Thresholds that pass, from', (side) => volts(side.threshold?.low)),
    both('Thresholds that pass, to', (side) => volts(side.threshold?.high)),
    both('Best pair, strobe', (side) => seconds(side.bestPair?.time)),
    both('Best pair, threshold', (side) => volts(side.bestPair?.threshold)),
    both('ZERO: output has fallen before the strobe by', (side) => fallen(side.pulses)),
    both('ONE: output high before the strobe for', (side) => held(side.pulses?.oneHeld?.before)),
    both('ONE: output high after the strobe for', (side) => held(side.pulses?.oneHeld?.after)),
  ];
}

const distanceText = (time: number | undefined): string =>
  time === undefined ? 'not inside' : seconds(time);

function fallen(pulses: StrobeState['pulses']): string {
  const time = pulses?.zeroFallen;
  if (time === undefined) return 'never high before it';
  return time >= 0 ? seconds(time) : `not: high ${seconds(-time)} past it`;
}

const held = (time: number | undefined): string => (time === undefined ? 'low at the strobe' : seconds(time));

/** The detector's output at the design's own rate and at faster ones: by the engine's own words. */
function pulseTable(strobe: StrobeState): HTMLElement[] {
  const faster = (strobe.overRate ?? []).length > 1;
  if (!faster) return [];
  const [first, ...others] = PULSE_HEADER;
  return [
    h('caption', { class: 'visually-hidden' }, `${first}, over the cycle rate`),
    h('thead', {}, h('tr', {}, h('td', {}), ...others.map((text) => h('th', { scope: 'col' }, text)))),
    h(
      'tbody',
      {},
      ...pulseRows(strobe).map(([name, ...cells]) =>
        h('tr', {}, h('th', { scope: 'row' }, name!), ...cells.map((cell) => h('td', {}, cell))),
      ),
    ),
  ];
}

/** Behind the read-outs: distances to the edges, the detector's pulses, and what the corners leave. */
export function createStrobeDetail(): { readonly node: HTMLElement; update(strobe: StrobeState): void } {
  let shown: StrobeState | undefined;
  const table = h('table', {});
  const pulses = h('table', {});
  const told = h('p', { class: 'note small' });
  const node = h(
    'details',
    { class: 'behind' },
    h('summary', {}, 'Distances to the edges, detector pulses, corners'),
    h(
      'div',
      { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Distances, pulses and corners' },
      table,
    ),
    h(
      'div',
      { class: 'table-scroll', tabindex: 0, role: 'region', 'aria-label': 'Detector over the cycle rate' },
      pulses,
    ),
    told,
  );
  node.addEventListener('toggle', () => draw());

  function draw(): void {
    if (!shown || !node.open) return;
    const head = (text: string) => h('th', { scope: 'col' }, text);
    put(
      table,
      h('caption', { class: 'visually-hidden' }, 'As designed against the corners of the tolerances'),
      h('thead', {}, h('tr', {}, h('td', {}), head('as designed'), head('at the corners'))),
      h(
        'tbody',
        {},
        ...detailRows(shown).map(([name, nominal, corner]) =>
          h('tr', {}, h('th', { scope: 'row' }, name), h('td', {}, nominal), h('td', {}, corner)),
        ),
      ),
    );
    put(pulses, ...pulseTable(shown));
    const { corners } = shown;
    put(
      told,
      corners
        ? `At the corners the least ONE is set by: ${corners.one}; the greatest ZERO by: ${corners.zero}.${corners.reason ? ` ${corners.reason}` : ''}`
        : '',
    );
  }

  return {
    node,
    update(strobe) {
      shown = strobe;
      draw();
    },
  };
}
