import { signal } from '@preact/signals-core';
import type { CaptureOptions, CaptureReading } from '../../engine/capture/capture.ts';
import { createWork } from '../compute/work.ts';
import type { Said } from '../ui/status.ts';
import { createBenchClient } from './bench-client.ts';
import { createPreview, type Taken } from './capture-preview.ts';
import { openView, type Opened } from './open-view.ts';
import type { SampleCapture } from './sample-captures.ts';
import { createSection } from './section.ts';

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

/** Ways in: a file, a drop, a paste, a sample; then how the text was read, and what it leaves open. */
export function createOpenCapture({ onTake, onKeep }: OpenCaptureCallbacks): OpenCapture {
  const work = createWork(createBenchClient());
  /** A file is held over the place to drop it. */
  const over = signal(false);
  let opened: Opened | undefined;
  const preview = createPreview({
    onOptions: (options) => opened && read(opened, options),
    onTake: (taken) => {
      onTake(taken, opened?.sample);
      work.say({ sign: 'ok', text: `${taken.label} is on the bench: see below.` });
      preview.clear();
    },
    onKeep: () => void keep(),
  });

  function read(next: Opened, options: CaptureOptions = {}): void {
    opened = next;
    const { name, content } = next;
    work.ask(
      'read',
      { content, options },
      {
        busy: `Reading ${name}.`,
        onAnswer: (reading) => {
          preview.show(name, reading, options);
          return readSaid(name, reading);
        },
        onFailed: ({ message }) => {
          preview.refused(options);
          return `${name}: ${message}`;
        },
      },
    );
  }

  async function openFile(file: File): Promise<void> {
    try {
      read({ name: file.name, content: new Uint8Array(await file.arrayBuffer()) });
    } catch {
      work.say({
        sign: 'error',
        text: `${file.name} cannot be read: it was moved or is a folder; choose the file again.`,
      });
    }
  }

  async function keep(): Promise<void> {
    if (!opened) return;
    const { name, content } = opened;
    work.say({ sign: 'busy', text: `Keeping ${name}.` });
    try {
      work.say({ sign: 'ok', text: await onKeep(name, content) });
    } catch (error) {
      work.say({ sign: 'error', text: (error as Error).message });
    }
  }

  const node = createSection('bench-open', 'Capture', () =>
    openView({
      over: over.value,
      said: work.state.value.said,
      preview: preview.node,
      onRead: read,
      onFile: (file) => void openFile(file),
      onOver: (next) => {
        over.value = next;
      },
    }),
  );
  return {
    node,
    open(name, content) {
      read({ name, content });
      node.scrollIntoView({ block: 'start' });
    },
  };
}

function readSaid(name: string, { ambiguities }: CaptureReading): Said {
  const open = ambiguities.length;
  if (open === 0) return { sign: 'ok', text: `${name} is read: look it over, then take it.` };
  const questions = open === 1 ? 'one question' : `${open} questions`;
  return { sign: 'warning', text: `${name} leaves ${questions} open: answer below.` };
}
