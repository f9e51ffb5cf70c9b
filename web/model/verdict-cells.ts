/** The four fixed cells, in their order, with the set of cases that each stands for. */
export const CELLS = [
  { set: 'nominal', title: 'As designed' },
  { set: 'corners', title: 'At the corners' },
  { set: 'parts', title: 'Yield of parts' },
  { set: 'core', title: 'Core uncertainty' },
] as const;
export type SetName = (typeof CELLS)[number]['set'];

/** From worst to best; 'unknown' is none of them and never counts as good. */
export type Standing = 'fails' | 'short' | 'reads' | 'unknown';

export interface Cell {
  readonly set: SetName;
  readonly title: string;
  readonly standing: Standing;
  /** "11.9 mV left", "−15.9 mV left", "91 of 100", "not known yet". */
  readonly figure: string;
  /** "5 mV asked for", "no window": one clause. */
  readonly detail: string;
  /** V, negative: short of it; undefined where the cell is no margin or is not known. */
  readonly margin: number | undefined;
}

export interface Verdict {
  readonly cells: readonly Cell[];
  /** Never better than the worst cell that is known. */
  readonly standing: Standing;
  readonly headline: string;
  /** The same in a few words, for a row with room for no more: "Fails at the corners". */
  readonly short: string;
  /** Which set decides and by how much. */
  readonly because: string;
}

const ORDER: readonly Standing[] = ['fails', 'short', 'reads'];

const PLACES: Readonly<Record<SetName, string>> = {
  nominal: 'as designed',
  corners: 'at the corners',
  parts: 'with parts as they come',
  core: 'with every core it may be',
};

const SHORT: Readonly<Record<Standing, string>> = {
  fails: 'Fails',
  short: 'Less than asked',
  reads: 'Reads right',
  unknown: '',
};
const SHORT_PLACES: Readonly<Record<SetName, string>> = {
  ...PLACES,
  parts: 'with some parts',
  core: 'with some cores',
};

/**
 * The verdict of four cells: its headline is that of the worst ones known. `decides`: the set that the engine says decides
 * among those the design asks for, which is told where it is as bad as any.
 */
export function conclude(cells: readonly Cell[], decides?: string): Verdict {
  const known = cells.filter(({ standing }) => standing !== 'unknown');
  const standing = ORDER.find((each) => known.some((cell) => cell.standing === each)) ?? 'unknown';
  const bad = known.filter((cell) => cell.standing === standing);
  const worst =
    bad.find(({ set }) => set === decides) ??
    bad.toSorted((a, b) => (a.margin ?? Infinity) - (b.margin ?? Infinity))[0];
  const nominal = cells[0]!;
  if (!worst)
    return { cells, standing, headline: 'Working it out.', short: 'Working it out', because: nominal.detail };
  return {
    cells,
    standing,
    headline: headlineOf(standing, bad, known),
    short: `${SHORT[standing]} ${bad.map(({ set }) => SHORT_PLACES[set]).join(' and ')}`,
    because: `${worst.title}: ${worst.figure}, ${worst.detail}.`,
  };
}

/** Every set that is as bad as the worst is named, and of one that fails also what reads: "…, not at the corners." */
function headlineOf(standing: Standing, bad: readonly Cell[], known: readonly Cell[]): string {
  const places = (cells: readonly Cell[]): string[] => cells.map(({ set }) => PLACES[set]);
  if (standing === 'short') return `Reads ${places(bad).join(' and ')}, but with less than asked for.`;
  const reads = `Reads right ${places(known.filter((cell) => cell.standing === 'reads')).join(' and ')}`;
  if (standing === 'reads') return `${reads}.`;
  // What does not read as it was designed reads nowhere else.
  if (bad[0]!.set === 'nominal') return 'Does not read right as designed.';
  return known[0]!.standing === 'reads'
    ? `${reads}, not ${places(bad).join(' nor ')}.`
    : `Does not read right ${places(bad).join(' nor ')}.`;
}
