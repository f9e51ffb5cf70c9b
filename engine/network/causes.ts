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
