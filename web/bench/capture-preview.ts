import type {
  Capture,
  CaptureOptions,
  CapturePreview,
  CaptureReading,
} from '../../engine/capture/capture.ts';
import { extent } from '../charts/decimate.ts';
import { paddedSpan } from '../charts/spaces.ts';
import { traceChart } from '../charts/trace-chart.ts';
import { h, put } from '../ui/dom.ts';
import { readingInWords } from './capture-words.ts';
import { evenly } from '../model/measured-trace.ts';
import { createOverrides } from './reading-overrides.ts';
import { questionNodes } from './reading-questions.ts';
import { textSize } from './text-size.ts';

/** One trace of a capture that the reader looked over and took. */
export interface Taken {
  readonly label: string;
  readonly time: Float64Array;
  readonly value: Float64Array;
}

export interface PreviewCallbacks {
  readonly onOptions: (options: CaptureOptions) => void;
  readonly onTake: (taken: Taken) => void;
  /** Keeps the file as it is on the server. */
  readonly onKeep: () => void;
}

export interface Preview {
  readonly node: HTMLElement;
  show(name: string, reading: CaptureReading, options: CaptureOptions): void;
  /** The text could not be read: leaves the ways to read it otherwise. */
  refused(options: CaptureOptions): void;
  clear(): void;
}

/** How a text was read, what it leaves open, its first rows, its traces, and the button that takes one. */
export function createPreview({ onOptions, onTake, onKeep }: PreviewCallbacks): Preview {
  const words = h('p', { class: 'note' });
  const questions = h('div', { class: 'bench-questions' });
  const rows = h('div', {
    class: 'table-scroll',
    tabindex: 0,
    role: 'region',
    'aria-label': 'First rows of the capture',
  });
  const plot = h('div', { class: 'plot' });
  const take = h('div', { class: 'place' });
  const overrides = createOverrides(onOptions);
  const node = h(
    'div',
    { class: 'bench-preview', hidden: true },
    words,
    questions,
    rows,
    plot,
    overrides.node,
    take,
    h('button', { type: 'button', class: 'quiet', click: onKeep }, 'Keep the file on the server'),
  );

  return {
    node,
    show(name, reading, options) {
      node.hidden = false;
      put(words, [readingInWords(reading), ...reading.notes].join(' '));
      put(questions, ...questionNodes(reading.ambiguities, (answer) => onOptions({ ...options, ...answer })));
      put(rows, previewTable(reading.preview));
      rows.hidden = false;
      overrides.update(reading.preview, options);
      take.replaceChildren();
      plot.replaceChildren();
      if (reading.capture) offerTraces(name, reading.capture, plot, take, onTake);
      const next = questions.querySelector<HTMLElement>('input, button') ?? take.querySelector('button');
      if (document.activeElement === document.body) next?.focus();
    },
    refused(options) {
      node.hidden = false;
      for (const part of [words, questions, plot, take]) part.replaceChildren();
      rows.hidden = true;
      overrides.update(undefined, options);
    },
    clear() {
      node.hidden = true;
    },
  };
}

const ROLES = { time: 'times', trace: 'trace', 'left out': 'left out' } as const;

function previewTable({ columns, rows, firstLine, preamble }: CapturePreview): HTMLElement {
  const table = h(
    'table',
    {},
    h('caption', {}, `First rows as written, from line ${firstLine}`),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        ...columns.map(({ name, role, unit }) =>
          h(
            'th',
            { scope: 'col' },
            name,
            h('br'),
            `${ROLES[role]}${unit && role !== 'left out' ? `, ${unit}` : ''}`,
          ),
        ),
      ),
    ),
    h('tbody', {}, ...rows.map((row) => h('tr', {}, ...columns.map((_, i) => h('td', {}, row[i] ?? ''))))),
  );
  const above = preamble.filter((line) => line.trim() !== '');
  return h(
    'div',
    {},
    above.length > 0 &&
      h(
        'details',
        {},
        h('summary', {}, `Lines above the samples (${above.length})`),
        h('pre', { class: 'bench-preamble' }, above.join('\n')),
      ),
    table,
  );
}

function offerTraces(
  name: string,
  capture: Capture,
  plot: HTMLElement,
  take: HTMLElement,
  onTake: (taken: Taken) => void,
): void {
  const select = h(
    'select',
    { id: 'bench-trace', change: () => draw() },
    ...capture.traces.map(({ name: trace, unit }, i) => h('option', { value: i }, `${trace} (${unit})`)),
  );
  const first = capture.traces.findIndex(({ unit }) => unit === 'V');
  select.value = String(Math.max(0, first));
  const label = h('input', {
    id: 'bench-label',
    type: 'text',
    autocomplete: 'off',
    maxlength: 60,
    value: name,
  });
  const chosen = () => capture.traces[Number(select.value)]!;
  const button = h(
    'button',
    {
      type: 'button',
      click: () => onTake({ label: label.value.trim() || name, time: capture.time, value: chosen().value }),
    },
    'Take this capture',
  );
  const reason = h('p', { class: 'note' });
  const draw = (): void => {
    const trace = chosen();
    button.disabled = trace.unit !== 'V';
    put(
      reason,
      trace.unit === 'V' ? '' : 'This trace is a current; what is laid over a prediction must be in volts.',
    );
    const samples = evenly(capture.time, trace.value);
    const span = { from: capture.time[0]!, to: capture.time.at(-1)! };
    const [low, high] = extent(samples, span.from, span.to) ?? [0, 0];
    const em = textSize();
    plot.replaceChildren(
      traceChart({
        id: 'bench-raw',
        width: Math.max(220, plot.clientWidth),
        height: 200 * em,
        em,
        name: `${trace.name} as captured, over the instrument's own time`,
        time: span,
        value: paddedSpan(low, high),
        quantity: { symbol: trace.unit === 'V' ? 'u' : 'i', unit: trace.unit },
        lines: [{ style: 'measured', samples }],
      }).node,
    );
  };
  put(
    take,
    capture.traces.length > 1 &&
      h('div', { class: 'field' }, h('label', { for: 'bench-trace' }, 'Trace'), select),
    h('div', { class: 'field bench-name' }, h('label', { for: 'bench-label' }, 'Name it'), label),
    button,
    reason,
  );
  draw();
}
