import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { readQuantity, type Unit } from '../../engine/base/units.ts';
import { readCapture } from '../../engine/capture/read-capture.ts';
import type { FittedCore } from '../../engine/fitting/jig/fit-core.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { JIG_SAMPLES } from './sample-captures.ts';

export interface JigCapturesCallbacks {
  /** Rise of the drive as typed beside the other values of the core. */
  readonly rise: () => string;
  readonly onRead: (values: Readonly<Record<string, string>>) => void;
  /** The invented captures were put in: what is known beside them. */
  readonly onSample: () => void;
}

interface Source {
  readonly label: string;
  readonly trace: { readonly time: Float64Array; readonly value: Float64Array };
}

const READINGS: readonly (readonly [keyof FittedCore['measured'], string, Unit])[] = [
  ['peakOne', 'uV1', 'V'],
  ['peakTime', 't_p', 's'],
  ['switchTime', 't_s', 's'],
  ['disturbedZero', 'dVz', 'V'],
];

/** Reads uV1, t_p, t_s and dVz off captures of one core on a jig, into the fields beside it. */
export function createJigCaptures(
  bench: BenchState,
  { rise, onRead, onSample }: JigCapturesCallbacks,
): { readonly node: HTMLElement; refresh(): void } {
  const lane = createBenchClient();
  let samples: readonly Source[] = [];
  let sources: readonly Source[] = [];
  const select = (id: string) => h('select', { id });
  const text = (id: string, example: string) =>
    h('input', { id, type: 'text', autocomplete: 'off', placeholder: example });
  const one = select('jig-one');
  const zero = select('jig-zero');
  const oneStart = text('jig-one-start', '0 ns');
  const zeroStart = text('jig-zero-start', '0 ns');
  const gain = text('jig-gain', '1');
  const status = h('p', { class: 'status', role: 'status' });
  const field = (input: HTMLElement, label: string) =>
    h('div', { class: 'field' }, h('label', { for: input.id }, label), input);
  const node = h(
    'details',
    {},
    h('summary', {}, 'Read uV1, t_p, t_s and dVz off captures'),
    h(
      'p',
      { class: 'note' },
      'Of captures on the bench: each begins before the drive rises and lasts until the answer has died away. The rise of the drive is that of the fields above.',
    ),
    h(
      'div',
      { class: 'bench-fields' },
      field(one, 'Undisturbed ONE at full drive'),
      field(oneStart, 'There the drive’s rise starts at'),
      field(zero, 'Disturbed ZERO at full drive'),
      field(zeroStart, 'There the drive’s rise starts at'),
      field(gain, 'Volts captured over volts per turn at the core'),
    ),
    h(
      'div',
      { class: 'button-row' },
      h('button', { type: 'button', click: () => measure() }, 'Read them off'),
      h('button', { type: 'button', click: () => trySamples() }, 'Try two invented captures'),
    ),
    h('div', { class: 'status-row' }, status),
  );
  const refuse = (message: string): void => put(status, icon('error'), message);

  function trySamples(): void {
    samples = JIG_SAMPLES.map(({ title, text: content }) => {
      const { time, traces } = readCapture(content).capture!;
      return { label: title, trace: { time, value: traces[0]!.value } };
    });
    refresh();
    one.value = samples[0]!.label;
    zero.value = samples[1]!.label;
    oneStart.value = zeroStart.value = '25 ns';
    gain.value = '';
    onSample();
    measure();
  }

  function measure(): void {
    const sourceOf = ({ value }: HTMLSelectElement) => sources.find(({ label }) => label === value);
    const seconds = (input: string, what: string): number | undefined => {
      const reading = readQuantity(input.trim(), 's');
      if (reading.ok) return reading.value;
      refuse(`${what} must be a time with its unit, but it ${reading.why}: write it like 25 ns.`);
      return undefined;
    };
    const read = sourceOf(one);
    if (!read) return refuse('Choose the capture of a ONE: take one at the top of this page first.');
    const long = seconds(rise(), 'The rise of the drive');
    if (long === undefined) return;
    const start = seconds(oneStart.value, 'The start of the drive’s rise in the ONE');
    if (start === undefined) return;
    const disturbed = sourceOf(zero);
    const second = disturbed && seconds(zeroStart.value, 'The start of the drive’s rise in the ZERO');
    if (disturbed && second === undefined) return;
    const factor = gain.value.trim() === '' ? 1 : Number(gain.value.replace(',', '.'));
    if (!(Math.abs(factor) > 0 && Number.isFinite(factor)))
      return refuse('The gain must be a plain number that is not 0: write it like 10.');
    put(status, icon('busy'), 'Reading.');
    lane.ask(
      'measure',
      {
        one: { trace: read.trace, edge: { start, rise: long } },
        disturbedZero:
          disturbed && second !== undefined
            ? { trace: disturbed.trace, edge: { start: second, rise: long } }
            : undefined,
        gain: factor,
      },
      { onAnswer: show, onFailed: ({ message }) => refuse(message) },
    );
  }

  function show(measured: FittedCore['measured']): void {
    const found = READINGS.flatMap(([key, word, unit]) => {
      const reading = measured[key];
      return reading ? [{ key, word, unit, ...reading }] : [];
    });
    onRead(Object.fromEntries(found.map(({ key, unit, value }) => [key, formatQuantity(value, unit, 5)])));
    const words = found.map(
      ({ word, unit, value, error }) =>
        `${word} ${formatQuantity(value, unit, 4)} ± ${formatQuantity(error, unit, 2)}`,
    );
    put(
      status,
      icon('ok'),
      `Read off: ${words.join(', ')} (one standard error each). Now find the parameters.`,
    );
  }

  function refresh(): void {
    sources = [...bench.captures.value, ...samples];
    for (const [choice, none] of [
      [one, 'choose a capture'],
      [zero, 'none'],
    ] as const) {
      const { value } = choice;
      put(
        choice,
        h('option', { value: '' }, none),
        ...sources.map(({ label }) => h('option', { value: label }, label)),
      );
      choice.value = sources.some(({ label }) => label === value) ? value : '';
    }
  }

  refresh();
  return { node, refresh };
}
