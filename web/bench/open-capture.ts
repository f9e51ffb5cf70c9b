import type { CaptureOptions, CaptureReading } from '../../engine/capture/capture.ts';
import { h, put } from '../ui/dom.ts';
import { icon } from '../ui/icons.ts';
import { createBenchClient } from './bench-client.ts';
import { createPreview, type Taken } from './capture-preview.ts';
import { SAMPLE_CAPTURES, type SampleCapture } from './sample-captures.ts';

export interface OpenCaptureCallbacks {
  readonly onTake: (taken: Taken, sample: SampleCapture | undefined) => void;
  /** Keeps a file on the server; what to tell of it. */
  readonly onKeep: (name: string, content: string | Uint8Array) => Promise<string>;
}

export interface OpenCapture {
  readonly node: HTMLElement;
  /** Reads a text as if its file had been opened. */
  open(name: string, content: Uint8Array): void;
}

interface Source {
  readonly name: string;
  readonly content: string | Uint8Array;
  readonly sample?: SampleCapture;
}

/** Ways in: a file, a drop, a paste, a sample; then how the text was read, and what it leaves open. */
export function createOpenCapture({ onTake, onKeep }: OpenCaptureCallbacks): OpenCapture {
  const lane = createBenchClient();
  let source: Source | undefined;
  let options: CaptureOptions = {};
  const status = h('p', { class: 'status', role: 'status' });
  const file = h('input', {
    type: 'file',
    id: 'bench-file',
    accept: '.csv,.txt,.tsv,.dat,text/*',
    class: 'visually-hidden',
    change: () => {
      const chosen = file.files?.[0];
      if (chosen) void openFile(chosen);
      file.value = '';
    },
  });
  const pasted = h('textarea', { id: 'bench-paste', rows: 5, spellcheck: 'false' });
  const preview = createPreview({
    onOptions: (next) => read(source, next),
    onTake: (taken) => {
      onTake(taken, source?.sample);
      put(status, icon('ok'), `${taken.label} is on the bench: see below.`);
      preview.clear();
    },
    onKeep: () => void keep(),
  });
  const drop = h(
    'div',
    { class: 'bench-drop' },
    h(
      'div',
      { class: 'button-row' },
      h('label', { class: 'file-button', for: 'bench-file' }, file, 'Open a capture'),
      h('span', { class: 'note' }, 'a text file from any instrument, or drop it here'),
    ),
    h(
      'div',
      { class: 'button-row' },
      h(
        'span',
        { class: 'label' },
        'Or try an invented one, of the tide recorder’s mat, which it puts in the planning view:',
      ),
      ...SAMPLE_CAPTURES.map((sample) =>
        h(
          'button',
          {
            type: 'button',
            click: () => read({ name: sample.file, content: sample.text, sample }, {}),
          },
          sample.title,
        ),
      ),
    ),
    h(
      'details',
      {},
      h('summary', {}, 'Paste its text'),
      h('label', { for: 'bench-paste', class: 'label' }, 'Text of the capture'),
      pasted,
      h(
        'div',
        { class: 'button-row' },
        h(
          'button',
          { type: 'button', click: () => read({ name: 'pasted text', content: pasted.value }, {}) },
          'Read the text',
        ),
      ),
    ),
  );
  drop.addEventListener('dragover', (event) => {
    event.preventDefault();
    drop.classList.add('over');
  });
  drop.addEventListener('dragleave', () => drop.classList.remove('over'));
  drop.addEventListener('drop', (event) => {
    event.preventDefault();
    drop.classList.remove('over');
    const dropped = event.dataTransfer?.files[0];
    if (dropped) return void openFile(dropped);
    const text = event.dataTransfer?.getData('text/plain');
    if (text) read({ name: 'dropped text', content: text }, {});
  });

  async function openFile(chosen: File): Promise<void> {
    try {
      read({ name: chosen.name, content: new Uint8Array(await chosen.arrayBuffer()) }, {});
    } catch {
      put(
        status,
        icon('error'),
        `${chosen.name} cannot be read: it was moved or is a folder; choose the file again.`,
      );
    }
  }

  async function keep(): Promise<void> {
    if (!source) return;
    const { name, content } = source;
    put(status, icon('busy'), `Keeping ${name}.`);
    try {
      put(status, icon('ok'), await onKeep(name, content));
    } catch (error) {
      put(status, icon('error'), (error as Error).message);
    }
  }

  function read(next: Source | undefined, how: CaptureOptions): void {
    if (!next) return;
    source = next;
    options = how;
    put(status, icon('busy'), `Reading ${next.name}.`);
    lane.ask(
      'read',
      { content: next.content, options: how },
      {
        onAnswer: (reading) => shown(next, reading),
        onFailed: ({ message }) => {
          put(status, icon('error'), `${next.name}: ${message}`);
          preview.refused(options);
        },
      },
    );
  }

  function shown(from: Source, reading: CaptureReading): void {
    const open = reading.ambiguities.length;
    if (open > 0)
      put(
        status,
        icon('warning'),
        `${from.name} leaves ${open === 1 ? 'one question' : `${open} questions`} open: answer below.`,
      );
    else put(status, icon('ok'), `${from.name} is read: look it over, then take it.`);
    preview.show(from.name, reading, options);
  }

  const node = h(
    'section',
    { class: 'bench-section', 'aria-labelledby': 'bench-open' },
    h('h2', { id: 'bench-open' }, 'Capture'),
    drop,
    h('div', { class: 'status-row' }, status),
    preview.node,
  );
  return {
    node,
    open(name, content) {
      read({ name, content }, {});
      node.scrollIntoView({ block: 'start' });
    },
  };
}
