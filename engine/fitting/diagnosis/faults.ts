import type { CoreException, Design } from '../../design/design.ts';
import { formatQuantity } from '../../base/format-quantity.ts';
import { turnedRound } from '../../mat/winding.ts';

/** How bad a fault is: one number that the diagnosis fits between bounds. */
export interface Severity {
  /** Values tried before the refinement. */
  readonly tried: readonly number[];
  readonly low: number;
  readonly high: number;
  /** Which end is the worse one; 'both' where the fault may go either way. */
  readonly worst: 'low' | 'high' | 'both';
  readonly describe: (value: number, healthy: Design) => string;
}

/** One thing that may be wrong with a build, as a change of its design. */
export interface Fault {
  readonly code: string;
  readonly title: string;
  /** Undefined: there is only one degree of it. */
  readonly severity: Severity | undefined;
  readonly change: (design: Design, severity: number) => Design;
  /** -1: what is seen is upside down. */
  readonly polarity?: -1;
  /** True for the fault of the strobe, which moves no trace: severity is its lateness in s. */
  readonly movesStrobe?: true;
  /** False where the design cannot have the fault; left out: any may. */
  readonly possible?: (design: Design) => boolean;
  /** False where the captures could not show it; left out: any may. */
  readonly shows?: (shown: Shown) => boolean;
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

const share = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  worst: 'low',
  describe: (v) => `to ${Math.round(v * 100)} % of what the design says`,
});
const lateness = (tried: readonly number[], low: number, high: number): Severity => ({
  tried,
  low,
  high,
  worst: 'high',
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

/** The amplifier's leads exchanged: terminations stand on its board and stay there. */
const exchangeEnds = (design: Design): Design => ({
  ...design,
  terminations: { ...design.terminations, a: design.terminations.b, b: design.terminations.a },
});

const termination = (design: Design, end: 'a' | 'b', ohm: number): Design => ({
  ...design,
  terminations: { ...design.terminations, [end]: ohm },
});

type Line = 'x' | 'y';
const LINES: Readonly<Record<string, readonly Line[]>> = { '': ['x', 'y'], '-x': ['x'], '-y': ['y'] };
const lineWords: Readonly<Record<string, string>> = { '': 'on both lines', '-x': 'on X', '-y': 'on Y' };

function lowDrive(design: Design, lines: readonly Line[], left: number): Design {
  const drive = { ...design.drive };
  for (const line of lines) {
    const d = drive[line];
    const source = d.source.kind === 'voltage' ? { ...d.source, voltage: d.source.voltage * left } : d.source;
    drive[line] = {
      ...d,
      source,
      readAmplitude: d.readAmplitude * left,
      writeAmplitude: d.writeAmplitude * left,
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
      possible: (d) => d.terminations[end] !== Infinity,
    },
    {
      code: `short-termination-${end}`,
      title: `Short across the ${wire}`,
      severity: undefined,
      change: (d) => termination(d, end, 0),
      possible: (d) => d.terminations[end] !== 0,
    },
    {
      code: `wrong-termination-${end}`,
      title: `Wrong ${wire}`,
      severity: {
        tried: [0.3, 0.6, 1.6, 3],
        low: 0.1,
        high: 10,
        worst: 'both',
        describe: (v, { terminations }) =>
          `${formatQuantity(v * terminations[end], 'ohm', 2)} instead of ${formatQuantity(terminations[end], 'ohm', 2)}`,
      },
      change: (d, times) => termination(d, end, d.terminations[end] * times),
      possible: (d) => Number.isFinite(d.terminations[end]) && d.terminations[end] > 0,
    },
  ];
});

/** Every single fault that a diagnosis tries. Cores other than the selected one are not tried. */
export const FAULTS: readonly Fault[] = [
  {
    code: 'weak-core',
    title: 'The selected core is weak',
    severity: {
      ...share([0.5, 0.75, 0.9], 0.2, 0.97),
      describe: (v) => `its flux is ${Math.round(v * 100)} % of the others'`,
    },
    change: (d, flux) => selectedCore(d, { fluxFactor: flux }),
  },
  {
    code: 'missing-core',
    title: 'The selected core is missing or broken',
    severity: undefined,
    change: (d) => selectedCore(d, { missing: true }),
  },
  {
    code: 'reversed-core',
    title: 'The selected core is threaded backwards',
    severity: undefined,
    change: (d) => selectedCore(d, { reversed: true }),
  },
  ...terminationFaults,
  ...perLine((suffix, lines) => ({
    code: `low-drive${suffix}`,
    title: `Drive current too low ${lineWords[suffix]}`,
    severity: share([0.7, 0.85, 0.94], 0.4, 0.985),
    change: (d, left) => lowDrive(d, lines, left),
  })),
  {
    code: 'late-drive-y',
    title: 'Y drive comes late',
    severity: lateness([15e-9, 40e-9, 100e-9], 3e-9, 300e-9),
    change: late,
  },
  {
    code: 'late-drive-x',
    title: 'X drive comes late',
    severity: lateness([15e-9, 40e-9, 100e-9], 3e-9, 300e-9),
    change: (d, seconds) => late(d, -seconds),
  },
  ...perLine((suffix, lines) => ({
    code: `slow-edge${suffix}`,
    title: `Slow rising edge ${lineWords[suffix]}`,
    severity: {
      tried: [1.4, 2, 3],
      low: 1.1,
      high: 8,
      worst: 'high' as const,
      describe: (v: number) => `${Number(v.toPrecision(2))} times as long as the design says`,
    },
    change: (d, times) => slowEdge(d, lines, times),
  })),
  {
    code: 'missing-inhibit',
    title: 'Inhibit current is missing',
    severity: undefined,
    change: (d) => inhibit(d, { amplitude: 0 }),
    possible: (d) => d.drive.inhibit.amplitude > 0,
    shows: ({ inhibit: written }) => written,
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
    possible: (d) => d.drive.inhibit.amplitude > 0,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'swapped-halves',
    title: 'The two leads of the amplifier, or the two halves of the wire, are exchanged',
    severity: undefined,
    // Half A in the place of half B and the other way round is the same wire read from its other end.
    change: exchangeEnds,
    polarity: -1,
  },
  ...(['a', 'b'] as const).map((half): Fault => ({
    code: `backward-half-${half}`,
    title: `The half of the wire at end ${half.toUpperCase()} is connected backwards: noise adds up and inhibit helps the write there`,
    severity: undefined,
    change: (d) => ({ ...d, winding: turnedRound(d.mat, d.winding, `half-${half}`) }),
    possible: (d) => d.winding.kind === 'shared-two-halves',
  })),
  {
    code: 'backward-wire',
    title: 'The shared wire is connected backwards, so that inhibit helps the write',
    severity: undefined,
    change: (d) => ({ ...d, winding: turnedRound(d.mat, d.winding, 'all') }),
    possible: (d) => d.winding.kind === 'shared-one-run' && d.drive.inhibit.amplitude > 0,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'late-strobe',
    title: 'The strobe comes late',
    severity: lateness([20e-9, 60e-9, 150e-9], 5e-9, 2e-6),
    change: (d) => d,
    movesStrobe: true,
    shows: ({ strobe }) => strobe,
  },
  {
    code: 'slow-recovery',
    title: 'The amplifier is still recovering from overload',
    severity: lateness([60e-9, 200e-9, 600e-9], 10e-9, 5e-6),
    change: (d, seconds) => ({
      ...d,
      amplifier: { ...d.amplifier, recovery: d.amplifier.recovery + seconds },
    }),
    possible: (d) => Number.isFinite(d.amplifier.outputLimit),
    shows: ({ amplifier }) => amplifier,
  },
];
