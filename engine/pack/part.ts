/** One line of the list of parts. */
export interface Part {
  readonly group: 'cores and wire' | 'drivers' | 'resistors' | 'clamps' | 'supply' | 'sense';
  readonly what: string;
  readonly count: number;
  /** "kind, value, limits", in words with units. */
  readonly value: string;
  /** What it must bear, or how the number was found. */
  readonly note: string;
}
