import type { made } from './en/made.ts';
import type { Wide, Words } from './shape.ts';

/** What maker, made lessons, tallies and sheets say in one language, and beside it the course's own words. */
export type MadeWords = Wide<typeof made> & { readonly course: Words };
