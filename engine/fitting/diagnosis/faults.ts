import { formatQuantity } from '../../base/format-quantity.ts';
import {
  exchangeEnds,
  inhibit,
  late,
  lateness,
  LINES,
  lineWords,
  lowDrive,
  selectedCore,
  share,
  slowEdge,
  termination,
  type Line,
} from './fault-changes.ts';
import type { Fault } from './fault.ts';
import { turnedRound } from '../../mat/winding.ts';

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
