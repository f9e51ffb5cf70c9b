import { html } from 'lit-html';
import type { Region } from '../state/page.ts';
import { createPrintSheet } from './print-sheet.ts';

/** On paper only: inputs as typed, version, seed, and what the numbers rest on. */
export const sheet: Region = ({ now }) => {
  const paper = createPrintSheet();
  return () => {
    const run = now.run.value;
    if (run) paper.update(now.raw.value, run, now.judged.value);
    return html`${paper.node}`;
  };
};
