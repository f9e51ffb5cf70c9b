import type { ScaleLinear } from 'd3';
import { s } from '../ui/dom.ts';
import { axisPrefix, withMinus, type Prefix } from './prefix.ts';
import type { Spaces } from './spaces.ts';

export interface Quantity {
  /** Printed italic: t, u, i. */
  readonly symbol: string;
  /** Printed upright, without prefix: s, V, A; empty for a count. */
  readonly unit: string;
}

export interface Tick {
  readonly at: number;
  readonly text: string;
}

const TICK = 5;

/** Ticks of a scale in one prefix. */
export function ticksOf(scale: ScaleLinear<number, number>, prefix: Prefix, count: number): readonly Tick[] {
  const inPrefix = scale.copy().domain(scale.domain().map((value) => value / prefix.factor));
  const format = inPrefix.tickFormat(count);
  return inPrefix.ticks(count).map((at) => ({
    at: at * prefix.factor,
    text: withMinus(format(at).replace('−', '-').replaceAll(',', ' ')),
  }));
}

const spanPrefix = (scale: ScaleLinear<number, number>): Prefix =>
  axisPrefix(Math.max(...scale.domain().map(Math.abs)));

/** Up to ten microseconds in nanoseconds, as strobes and windows are told. */
const timePrefix = (scale: ScaleLinear<number, number>): Prefix =>
  axisPrefix(Math.max(...scale.domain().map(Math.abs)) / 10);

/** Counts, temperatures and levels take no prefix. */
const PLAIN: readonly string[] = ['', '°C', 'dB'];

const prefixOf = (quantity: Quantity, scale: ScaleLinear<number, number>): Prefix =>
  PLAIN.includes(quantity.unit) ? { symbol: '', factor: 1 } : spanPrefix(scale);

function axisName(quantity: Quantity, prefix: Prefix): (Node | string)[] {
  const symbol = s('tspan', { 'font-style': 'italic' }, quantity.symbol);
  return quantity.unit === '' ? [symbol] : [symbol, ` / ${prefix.symbol}${quantity.unit}`];
}

/** How many more ticks to ask for until two are told: a single number tells no scale. */
const enoughTicks = (told: (more: number) => number): number =>
  [0, 1, 2, 3].find((more) => told(more) > 1) ?? 0;

export function acrossAxis(spaces: Spaces, quantity: Quantity, em: number, labelled = true): SVGGElement {
  const { x: time, width, height, margins } = spaces;
  const bottom = height - margins.bottom;
  const ofTime = quantity.symbol === 't';
  const prefix = ofTime ? timePrefix(time) : prefixOf(quantity, time);
  const count = Math.max(2, Math.floor((width - margins.left - margins.right) / (84 * em)));
  // Time has its name in the gutter, so that its last tick keeps its number.
  const nameRoom = ofTime ? 0 : Math.max(48, 8.5 * (quantity.symbol.length + quantity.unit.length + 3)) * em;
  const overName = ({ at }: Tick): boolean => time(at) > width - margins.right - nameRoom;
  const told = (more: number): number =>
    ticksOf(time, prefix, count + more).filter((tick) => !overName(tick)).length;
  const nameEnd = margins.left - 12 * em;
  // A number that would reach out of the picture, or under the name of time, stands beside its tick.
  const anchorOf = (x: number, text: string): 'start' | 'middle' | 'end' => {
    if (x > width - 4 * text.length * em) return 'end';
    return ofTime && x - 3.6 * text.length * em < nameEnd ? 'start' : 'middle';
  };
  const ticks = ticksOf(time, prefix, count + enoughTicks(told)).map((tick) => {
    const { at, text } = tick;
    const x = time(at);
    return s(
      'g',
      { transform: `translate(${x},${bottom})` },
      s('line', { y2: TICK, class: 'tick' }),
      labelled &&
        !overName(tick) &&
        s(
          'text',
          {
            y: TICK + 12 * em,
            class: 'tick-text',
            'text-anchor': anchorOf(x, text),
          },
          text,
        ),
    );
  });
  const name = s('text', {
    x: ofTime ? margins.left - 14 * em : width - margins.right,
    y: bottom + TICK + 12 * em,
    class: 'axis-name',
    'text-anchor': 'end',
  });
  if (labelled) name.append(...axisName(quantity, prefix));
  const line = s('line', {
    x1: margins.left,
    x2: width - margins.right,
    y1: bottom,
    y2: bottom,
    class: 'axis-line',
  });
  return s('g', { class: 'axis', 'data-unit': prefix.symbol + quantity.unit }, line, ...ticks, name);
}

export function upAxis(spaces: Spaces, quantity: Quantity, em: number): SVGGElement {
  const { y: value, width, height, margins } = spaces;
  const prefix = prefixOf(quantity, value);
  const count = Math.max(2, Math.floor((height - margins.top - margins.bottom) / (44 * em)));
  const enough = enoughTicks((more) => ticksOf(value, prefix, count + more).length);
  const ticks = ticksOf(value, prefix, count + enough).map(({ at, text }) =>
    s(
      'g',
      { transform: `translate(${margins.left},${value(at)})` },
      s('line', { x2: -TICK, class: 'tick' }),
      s('text', { x: -TICK - 4, dy: '0.32em', class: 'tick-text', 'text-anchor': 'end' }, text),
    ),
  );
  const name = s('text', { x: 2, y: margins.top - 9 * em, class: 'axis-name' });
  name.append(...axisName(quantity, prefix));
  const bottom = height - margins.bottom;
  const line = s('line', {
    x1: margins.left,
    x2: margins.left,
    y1: margins.top,
    y2: bottom,
    class: 'axis-line',
  });
  const [low, high] = value.domain() as [number, number];
  const zero =
    low < 0 && high > 0
      ? s('line', {
          x1: margins.left,
          x2: width - margins.right,
          y1: value(0),
          y2: value(0),
          class: 'zero-line',
        })
      : undefined;
  return s('g', { class: 'axis', 'data-unit': prefix.symbol + quantity.unit }, zero, line, ...ticks, name);
}
