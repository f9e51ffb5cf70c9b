import type { Design } from '../../design/design.ts';
import { inhibit, lastCycle, LATE, lateInhibit, lateness, percent, share } from './fault-changes.ts';
import type { Fault } from './fault.ts';

const INHIBITED = (d: Design): boolean => d.drive.inhibit.amplitude > 0;

/** What may be wrong with the inhibit current. */
export const INHIBIT_FAULTS: readonly Fault[] = [
  {
    code: 'missing-inhibit',
    title: 'Inhibit current is missing',
    severity: undefined,
    change: (d) => inhibit(d, { amplitude: 0 }),
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'low-inhibit',
    title: 'Inhibit current is wrong',
    severity: share([0.4, 0.7, 0.88, 1.12], 0.05, 1.4),
    change: (d, left) => inhibit(d, { amplitude: d.drive.inhibit.amplitude * left }),
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'leaking-inhibit',
    title: 'Inhibit current flows where a ONE is written',
    severity: {
      ...share([0.1, 0.3, 0.7], 0.02, 1.2),
      worst: 'high',
      describe: (v) => `${percent(v)} of the inhibit current`,
    },
    change: (d, part) =>
      d.selected.bit === 1 && d.programme[d.programme.length - 1].write === 'restore'
        ? lastCycle(inhibit(d, { amplitude: d.drive.inhibit.amplitude * part }), { write: 'zero' })
        : d,
    possible: INHIBITED,
    shows: ({ one }) => one,
  },
  {
    code: 'late-inhibit',
    title: 'Inhibit pulse comes late',
    severity: lateness(LATE, 5e-9, 500e-9),
    change: lateInhibit,
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
  {
    code: 'short-inhibit',
    title: 'Inhibit pulse ends too early',
    severity: lateness(LATE, 10e-9, 2e-6),
    change: (d, seconds) => {
      const { lag, lead, rise, fall } = d.drive.inhibit;
      const shortest = (rise + fall) / 2 + 5e-9;
      const most = d.cycle.writeWidth + lag + lead - shortest;
      return inhibit(d, { lag: lag - Math.min(seconds, most) });
    },
    possible: INHIBITED,
    shows: ({ inhibit: written }) => written,
  },
];
