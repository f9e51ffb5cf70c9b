import type { Words } from './shape.ts';

/** What maker, made lessons, tallies and sheets say in one language, and beside it the course's own words. */
export type MadeWords = Words['made'] & { readonly course: Words };
