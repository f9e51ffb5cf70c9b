/**
 * The five causes into which the sense voltage is split. They sum to it (see contributions.ts).
 */
export const CONTRIBUTIONS = [
  'directCoupling',
  'halfSelectedReversible',
  'halfSelectedIrreversible',
  'selectedCore',
  'inhibit',
] as const;
export type Contribution = (typeof CONTRIBUTIONS)[number];
export type ByContribution<T> = Readonly<Record<Contribution, T>>;

/** A cause in words: as the head of a row, and inside a sentence. */
export interface CauseName {
  readonly title: string;
  readonly phrase: string;
}

/** The one table of their names, for every door. */
export const CAUSE_NAMES: ByContribution<CauseName> = {
  directCoupling: { title: 'Direct coupling', phrase: 'direct coupling from the drive lines' },
  halfSelectedReversible: {
    title: 'Half-selected cores, reversible',
    phrase: 'the elastic answer of half-selected cores',
  },
  halfSelectedIrreversible: {
    title: 'Half-selected cores, irreversible',
    phrase: 'the switching of half-selected cores',
  },
  selectedCore: { title: 'Selected core', phrase: 'the selected core itself' },
  inhibit: { title: 'Inhibit', phrase: 'what is left of the inhibit pulse' },
};
