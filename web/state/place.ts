export const PLACES = ['plan', 'bench', 'learn', 'words'] as const;
/** Where the reader is: a place, a part of it (a drawer, a step of a lesson) and one thing in it. */
export interface Place {
  readonly name: (typeof PLACES)[number];
  readonly part: string;
  readonly id: string;
}
