import { signal, type ReadonlySignal } from '@preact/signals-core';
import type { Given } from '../score.ts';

/** How a step of the course stands with the reader: shown without an answer, or answered. */
export interface Standing {
  /** Missing: it was shown. */
  readonly given?: Given;
  readonly right?: boolean;
}
type Standings = Readonly<Record<string, Standing>>;

const KEY = 'course-progress';
const standings = signal<Standings>(readKept());

/** Of every step that was answered or shown in this tab, by its id. */
export const progress: ReadonlySignal<Standings> = standings;

/** The newest answer is kept, over a reload, in this tab only. */
export function keepProgress(step: string, standing: Standing): void {
  standings.value = { ...standings.value, [step]: standing };
  try {
    sessionStorage.setItem(KEY, JSON.stringify(standings.value));
  } catch {
    // Storage that is refused: it lasts as long as the page.
  }
}

function readKept(): Standings {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(KEY) ?? '{}');
    return typeof kept === 'object' && kept !== null ? (kept as Standings) : {};
  } catch {
    return {};
  }
}
