import { formatQuantity } from '../../engine/index.ts';
import type { StrobeState } from './strobe-state.ts';
import { CELLS, conclude, type Cell, type SetName, type Standing, type Verdict } from './verdict-cells.ts';

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
