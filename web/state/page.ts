import type { Box, View } from '../ui/mount.ts';
import type { Atoms } from './atoms.ts';
import type { Derived } from './derived.ts';
import type { Gestures } from './gestures.ts';

/** What a region is made from: what changes, what follows from it, and what the reader can do. */
export interface Page {
  readonly atoms: Atoms;
  readonly now: Derived;
  readonly act: Gestures;
  /** The engine's work on the design as it is. */
  readonly runs: { cancel(): void; again(): void };
}

/**
 * A region of the page: called once when it is mounted, its view again whenever a signal it read has changed. What
 * it draws is a template made from options; it reads `page` only to fill those options.
 */
export type Region = (page: Page) => (box: Box) => View;
