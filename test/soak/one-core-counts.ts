import { quantile, tell } from './figures.ts';
import { KeptLines } from './kept-lines.ts';

/** What one way in told of one core in one design, V. */
export interface Trial {
  readonly seed: number;
  readonly place: string;
  readonly door: string;
  /** The margin that the core has, the one of the core as it is known, and the interval told. */
  readonly margin: number;
  readonly own: number;
  readonly low: number;
  readonly high: number;
}

/** A core that a way in did not take, with its sentence. */
export interface Refusal {
  readonly seed: number;
  readonly door: string;
  readonly refused: string;
}

type Line = Trial | Refusal;

/** What was told so far: a core that stands there is not run again. */
export class Counts {
  private readonly kept: KeptLines<Line>;

  constructor(file: string | undefined) {
    this.kept = new KeptLines(file);
  }

  has(seed: number, place: string, door: string): boolean {
    return this.kept.all.some(
      (line) => line.seed === seed && line.door === door && ('refused' in line || line.place === place),
    );
  }

  add(line: Line): void {
    this.kept.add(line);
  }

  trialsIn(place: string): readonly Trial[] {
    return this.kept.all.filter((line): line is Trial => 'place' in line && line.place === place);
  }

  refusedBy(door: string): readonly Refusal[] {
    return this.kept.all.filter((line): line is Refusal => 'refused' in line && line.door === door);
  }
}

export const holds = ({ low, high, margin }: Trial): boolean => low <= margin && margin <= high;

/** One row for each way in, one for their overlap, and one for how far the margins themselves lie apart. */
export function tellPlace(counts: Counts, place: string, doors: readonly string[]): void {
  const trials = counts.trialsIn(place);
  for (const door of doors) {
    const told = trials.filter((trial) => trial.door === door);
    const refused = counts.refusedBy(door);
    if (told.length === 0) continue;
    const held = told.filter(holds).length;
    const widths = told.map(({ low, high }) => high - low);
    const said = refused.length > 0 ? `, ${refused.length} refused` : '';
    tell(
      'O1',
      `${place}, ${door}`,
      `${held} of ${told.length}${said}, median width ${mV(quantile(widths, 0.5))}, ${needed(told)}`,
      '93 of 100',
    );
    if (process.env.SOAK_SHOW)
      for (const words of [...told.filter((trial) => !holds(trial)).map(missed), ...refused.map(why)])
        process.stdout.write(`    ${words}\n`);
  }
  const cores = [...new Set(trials.map(({ seed }) => seed))];
  const together = cores.filter((seed) => overlap(trials.filter((trial) => trial.seed === seed)));
  const margins = cores.map((seed) => trials.find((trial) => trial.seed === seed)!.margin);
  tell('O1', `${place}, all overlap`, `${together.length} of ${cores.length}`, '93 of 100');
  tell(
    'O1',
    `${place}, margins that these cores have`,
    [0.025, 0.5, 0.975].map((q) => mV(quantile(margins, q))).join(', '),
    'told',
  );
}

/**
 * To what part of themselves the intervals could be cut, about the margin of the core as it is known, so that 93 of 100
 * margins still lay within: over 1 they are too narrow, far under 1 wider than what is not known.
 */
function needed(trials: readonly Trial[]): string {
  const parts = trials.map(({ margin, own, low, high }) => {
    const way = margin < own ? own - low : high - own;
    return way > 0 ? Math.abs(margin - own) / way : margin === own ? 0 : Infinity;
  });
  return `${quantile(parts, 0.93).toFixed(2)} of it would hold 93 of 100`;
}

const overlap = (trials: readonly Trial[]): boolean =>
  Math.max(...trials.map(({ low }) => low)) <= Math.min(...trials.map(({ high }) => high));
const missed = ({ seed, margin, low, high, own }: Trial): string =>
  `${seed}: ${mV(margin)} not in ${mV(low)}..${mV(high)} (own ${mV(own)})`;
const why = ({ seed, refused }: Refusal): string => `${seed}: ${refused}`;
const mV = (volts: number): string => `${(volts * 1e3).toFixed(1)} mV`;
