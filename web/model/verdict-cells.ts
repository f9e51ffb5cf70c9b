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

/** The verdict of four cells: its headline is that of the worst one known. */
export function conclude(cells: readonly Cell[]): Verdict {
  const known = cells.filter(({ standing }) => standing !== 'unknown');
  const standing = ORDER.find((each) => known.some((cell) => cell.standing === each)) ?? 'unknown';
  const worst = known
    .filter((cell) => cell.standing === standing)
    .sort((a, b) => (a.margin ?? Infinity) - (b.margin ?? Infinity))[0];
  const nominal = cells[0]!;
  if (!worst) return { cells, standing, headline: 'Working it out.', because: nominal.detail };
  return {
    cells,
    standing,
    headline: headlineOf(nominal, worst, known),
    because: `${worst.title}: ${worst.figure}, ${worst.detail}.`,
  };
}

function headlineOf(nominal: Cell, worst: Cell, known: readonly Cell[]): string {
  const where = PLACES[worst.set];
  const right = known.filter(({ standing }) => standing === 'reads').map(({ set }) => PLACES[set]);
  const reads = `Reads right ${right.join(' and ')}`;
  if (worst.standing === 'fails')
    return nominal.standing === 'reads' ? `${reads}, not ${where}.` : `Does not read right ${where}.`;
  return worst.standing === 'short' ? `Reads ${where}, but with less than asked for.` : `${reads}.`;
}
