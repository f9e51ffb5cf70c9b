import type { CoreException, Design } from '../design.ts';
import { formatQuantity } from '../format-quantity.ts';

/** How bad a fault is: one number that the diagnosis fits between bounds. */
export interface Severity {
  /** Values tried before the refinement. */
  readonly tried: readonly number[];
  readonly low: number;
  readonly high: number;
  readonly describe: (value: number) => string;
}

/** One thing that may be wrong with a build, as a change of its design. */
export interface Fault {
  readonly code: string;
  readonly title: string;
  /** Undefined: there is only one degree of it. */
  readonly severity: Severity | undefined;
  readonly change: (design: Design, severity: number) => Design;
  /** -1: the two ends of the sense wire (or its halves) are exchanged, so that everything is upside down. */
  readonly polarity?: -1;
  /** True for the fault of the strobe, which moves no trace: severity is its lateness in s. */
  readonly movesStrobe?: true;
  /** False where the design cannot have the fault or the captures could not show it. */
  readonly applies: (design: Design, shown: Shown) => boolean;
}

/** What the captures could show. */
export interface Shown {
  /** A write of a ZERO, so that inhibit current flows. */
  readonly inhibit: boolean;
  /** The output of the amplifier. */
  readonly amplifier: boolean;
  /** The instant of the strobe. */
  readonly strobe: boolean;
}

const always = (): boolean => true;
const factor = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  describe: (v) => `to ${Math.round(v * 100)} % of what the design says`,
});
const lateness = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  describe: (v) => `by ${formatQuantity(v, 's', 2)}`,
});

/** A change of the selected core alone. */
function selectedCore(design: Design, change: Partial<CoreException>): Design {
  const { row, column } = design.selected;
  const healthy: CoreException = {
    row,
    column,
    missing: false,
    reversed: false,
    fluxFactor: 1,
    thresholdFactor: 1,
    bias: 0,
  };
  const own = design.exceptions.find((e) => e.row === row && e.column === column) ?? healthy;
  const others = design.exceptions.filter((e) => e !== own);
  return { ...design, exceptions: [...others, { ...own, ...change }] };
}

const termination = (design: Design, end: 'a' | 'b', ohm: number): Design => ({
  ...design,
  terminations: { ...design.terminations, [end]: ohm },
});

type Line = 'x' | 'y';
const LINES: Readonly<Record<string, readonly Line[]>> = { '': ['x', 'y'], '-x': ['x'], '-y': ['y'] };
const lineWords: Readonly<Record<string, string>> = { '': 'on both lines', '-x': 'on X', '-y': 'on Y' };

function lowDrive(design: Design, lines: readonly Line[], share: number): Design {
  const drive = { ...design.drive };
  for (const line of lines) {
    const d = drive[line];
    const source =
      d.source.kind === 'voltage' ? { ...d.source, voltage: d.source.voltage * share } : d.source;
    drive[line] = {
      ...d,
      source,
      readAmplitude: d.readAmplitude * share,
      writeAmplitude: d.writeAmplitude * share,
    };
  }
  return { ...design, drive };
}

/** An edge never longer than its pulse can hold. */
function slowEdge(design: Design, lines: readonly Line[], times: number): Design {
  const { readWidth, writeWidth } = design.cycle;
  const longest = 0.9 * Math.min(readWidth, writeWidth);
  const drive = { ...design.drive };
  for (const line of lines) {
    const d = drive[line];
    drive[line] = { ...d, rise: Math.max(d.rise, Math.min(longest, d.rise * times)), fall: d.fall };
  }
  return { ...design, drive };
}

const late = (design: Design, seconds: number): Design => ({
  ...design,
  cycle: { ...design.cycle, stagger: design.cycle.stagger + seconds },
});

const inhibit = (design: Design, change: Partial<Design['drive']['inhibit']>): Design => ({
  ...design,
  drive: { ...design.drive, inhibit: { ...design.drive.inhibit, ...change } },
});

const perLine = (make: (suffix: string, lines: readonly Line[]) => Fault): Fault[] =>
  Object.entries(LINES).map(([suffix, lines]) => make(suffix, lines));

const terminationFaults = (['a', 'b'] as const).flatMap((end): Fault[] => {
  const wire = `termination at end ${end.toUpperCase()}`;
  return [
    {
      code: `open-termination-${end}`,
      title: `Open ${wire}`,
      severity: undefined,
      change: (d) => termination(d, end, Infinity),
      applies: (d) => d.terminations[end] !== Infinity,
    },
    {
      code: `short-termination-${end}`,
      title: `Short across the ${wire}`,
      severity: undefined,
      change: (d) => termination(d, end, 0),
      applies: (d) => d.terminations[end] !== 0,
    },
    {
      code: `wrong-termination-${end}`,
      title: `Wrong ${wire}`,
      severity: factor([0.3, 0.6, 1.6, 3], 0.1, 10),
      change: (d, share) => termination(d, end, d.terminations[end] * share),
      applies: (d) => Number.isFinite(d.terminations[end]) && d.terminations[end] > 0,
    },
  ];
});

/** Every single fault that a diagnosis tries. Cores other than the selected one are not tried. */
export const FAULTS: readonly Fault[] = [
  {
    code: 'weak-core',
    title: 'The selected core is weak',
    severity: {
      ...factor([0.5, 0.75, 0.9], 0.2, 0.97),
      describe: (v) => `its flux is ${Math.round(v * 100)} % of the others'`,
    },
    change: (d, share) => selectedCore(d, { fluxFactor: share }),
    applies: always,
  },
  {
    code: 'missing-core',
    title: 'The selected core is missing or broken',
    severity: undefined,
    change: (d) => selectedCore(d, { missing: true }),
    applies: always,
  },
  {
    code: 'reversed-core',
    title: 'The selected core is threaded backwards',
    severity: undefined,
    change: (d) => selectedCore(d, { reversed: true }),
    applies: always,
  },
  ...terminationFaults,
  ...perLine((suffix, lines) => ({
    code: `low-drive${suffix}`,
    title: `Drive current too low ${lineWords[suffix]}`,
    severity: factor([0.7, 0.85, 0.94], 0.4, 0.985),
    change: (d, share) => lowDrive(d, lines, share),
    applies: always,
  })),
  {
    code: 'late-drive-y',
    title: 'Y drive comes late',
    severity: lateness([15e-9, 40e-9, 100e-9], 3e-9, 300e-9),
    change: late,
    applies: always,
  },
  {
    code: 'late-drive-x',
    title: 'X drive comes late',
    severity: lateness([15e-9, 40e-9, 100e-9], 3e-9, 300e-9),
    change: (d, seconds) => late(d, -seconds),
    applies: always,
  },
  ...perLine((suffix, lines) => ({
    code: `slow-edge${suffix}`,
    title: `Slow rising edge ${lineWords[suffix]}`,
    severity: {
      ...factor([1.4, 2, 3], 1.1, 8),
      describe: (v: number) => `${Number(v.toPrecision(2))} times as long as the design says`,
    },
    change: (d, times) => slowEdge(d, lines, times),
    applies: always,
  })),
  {
    code: 'missing-inhibit',
    title: 'Inhibit current is missing',
    severity: undefined,
    change: (d) => inhibit(d, { amplitude: 0 }),
    applies: (d, shown) => shown.inhibit && d.drive.inhibit.amplitude > 0,
  },
  {
    code: 'short-inhibit',
    title: 'Inhibit pulse ends too early',
    severity: lateness([60e-9, 150e-9, 300e-9], 10e-9, 2e-6),
    change: (d, seconds) => {
      const { lag, lead, rise, fall } = d.drive.inhibit;
      const shortest = (rise + fall) / 2 + 5e-9;
      const most = d.cycle.writeWidth + lag + lead - shortest;
      return inhibit(d, { lag: lag - Math.min(seconds, most) });
    },
    applies: (d, shown) => shown.inhibit && d.drive.inhibit.amplitude > 0,
  },
  {
    code: 'swapped-halves',
    title: 'The ends of the sense wire, or its two halves, are exchanged',
    severity: undefined,
    change: (d) => d,
    polarity: -1,
    applies: always,
  },
  {
    code: 'late-strobe',
    title: 'The strobe comes late',
    severity: lateness([20e-9, 60e-9, 150e-9], 5e-9, 2e-6),
    change: (d) => d,
    movesStrobe: true,
    applies: (_, shown) => shown.strobe,
  },
  {
    code: 'slow-recovery',
    title: 'The amplifier is still recovering from overload',
    severity: lateness([60e-9, 200e-9, 600e-9], 10e-9, 5e-6),
    change: (d, seconds) => ({
      ...d,
      amplifier: { ...d.amplifier, recovery: d.amplifier.recovery + seconds },
    }),
    applies: (d, shown) => shown.amplifier && Number.isFinite(d.amplifier.outputLimit),
  },
];
