import { untracked } from '@preact/signals-core';
import { html } from 'lit-html';
import type { Region } from '../state/page.ts';
import { mediaSignal } from '../ui/media.ts';
import { createPrintSheet } from './print-sheet.ts';

/** On paper only: inputs as typed, version, seed, and what the numbers rest on. */
export const sheet: Region = ({ now }) => {
  const paper = createPrintSheet();
  const onPaper = mediaSignal('print');
  const write = (): void => {
    const run = now.run.value;
    if (run) paper.update(now.raw.value, run, now.judged.value);
  };
  window.addEventListener('beforeprint', () => untracked(write));
  return () => {
    // On the screen nothing of it is seen, and a drag is not held up by it.
    if (onPaper.value) write();
    return html`${paper.node}`;
  };
};
