import { formatQuantity } from '../../engine/index.ts';
import type { StrobeState } from './strobe-state.ts';

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

/** What the engine tells of its verdict once it does; read as far as it is there. */
export interface EngineVerdict {
  readonly sets?: {
    readonly nominal?: EngineMargin | null;
    readonly corners?: EngineMargin | null;
    readonly parts?: {
      readonly mat: { readonly yield: number; readonly low: number; readonly high: number };
      readonly draws: number;
    } | null;
    readonly core?: { readonly low: number; readonly high: number } | null;
    readonly numbers?: { readonly error: number } | null;
  };
}
interface EngineMargin {
  readonly margin: number;
  readonly side?: 'one' | 'zero';
  readonly case?: string;
}

export const millivolts = (value: number): string => formatQuantity(value, 'V', 3);

const standingOf = (margin: number, wanted: number): Standing =>
  margin < 0 ? 'fails' : margin < wanted ? 'short' : 'reads';

const unknown = (set: SetName, detail: string): Cell => ({
  set,
  title: titleOf(set),
  standing: 'unknown',
  figure: 'not known yet',
  detail,
  margin: undefined,
});

const titleOf = (set: SetName): string => CELLS.find((cell) => cell.set === set)!.title;

/** A cell of a margin against what the builder asked for. */
function marginCell(set: SetName, margin: number, wanted: number, detail: string, passes = true): Cell {
  if (Number.isNaN(margin)) return unknown(set, detail || 'no run gave an answer');
  const standing = standingOf(margin, wanted);
  return {
    set,
    title: titleOf(set),
    standing: passes ? standing : 'fails',
    figure: `${millivolts(margin)} left`,
    detail,
    margin,
  };
}

/** The verdict of a strobe state; what neither the engine's verdict nor the present window tells is unknown. */
export function verdictOf(strobe: StrobeState | undefined, coreFrom: string): Verdict {
  if (!strobe)
    return conclude([
      unknown('nominal', 'being computed'),
      unknown('corners', 'being computed'),
      unknown('parts', 'being computed'),
      unknown('core', coreFrom),
    ]);
  const sets = (strobe as StrobeState & { readonly verdict?: EngineVerdict }).verdict?.sets;
  const wanted = strobe.required.margin;
  const askedFor = `${formatQuantity(wanted, 'V', 3)} asked for`;
  const nominal = sets?.nominal;
  const corners = sets?.corners;
  const { parts, core } = sets ?? {};
  return conclude([
    marginCell(
      'nominal',
      nominal?.margin ?? strobe.margin.left,
      wanted,
      strobe.here ? askedFor : 'outside the window',
      strobe.here !== undefined,
    ),
    corners || strobe.corners
      ? marginCell(
          'corners',
          corners?.margin ?? strobe.corners!.margin.left,
          wanted,
          strobe.corners && !strobe.corners.strobe ? 'no window' : askedFor,
        )
      : unknown('corners', 'being computed'),
    parts ? partsCell(parts) : unknown('parts', 'ask for it'),
    core
      ? {
          ...marginCell('core', core.low, wanted, coreFrom),
          figure: `${millivolts(core.low)} to ${millivolts(core.high)}`,
        }
      : unknown('core', coreFrom),
  ]);
}

function partsCell({ mat, draws }: NonNullable<NonNullable<EngineVerdict['sets']>['parts']>): Cell {
  return {
    set: 'parts',
    title: titleOf('parts'),
    standing: mat.yield === 1 ? 'reads' : mat.yield >= 0.9 ? 'short' : 'fails',
    figure: `${Math.round(mat.yield * draws)} of ${draws}`,
    detail: `${Math.round(100 * mat.low)} to ${Math.round(100 * mat.high)} % of mats`,
    margin: undefined,
  };
}

const ORDER: readonly Standing[] = ['fails', 'short', 'reads'];

const PLACES: Readonly<Record<SetName, string>> = {
  nominal: 'as designed',
  corners: 'at the corners',
  parts: 'with parts as they come',
  core: 'with all that is not known of the core',
};

function conclude(cells: readonly Cell[]): Verdict {
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
  if (worst.standing === 'fails')
    return nominal.standing === 'reads' && worst !== nominal
      ? `Reads right as designed, not ${where}.`
      : `Does not read right ${where}.`;
  if (worst.standing === 'short') return `Reads ${where}, but with less than asked for.`;
  return known.length === 1
    ? 'Reads right as designed.'
    : `Reads right ${known.map(({ set }) => PLACES[set]).join(' and ')}.`;
}
