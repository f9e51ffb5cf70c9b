import * as z from 'zod';
import { pulse } from './drive.ts';
import { choice, count, flag, group, list, quantity as q, ratio, record } from './fields.ts';
import { LARGEST_SIDE } from './mat.ts';

/** Most cycles in a programme, the observed one included. */
export const MOST_CYCLES = 256;

/** Any period of the cycle, wherever one is asked for. */
export const cyclePeriod = { unit: 's', from: '20 ns', to: '100 ms', orRate: true } as const;

export const cycleSchema = group(
  'Times within one cycle; widths are measured between half-amplitude points.',
  {
    period: q('3 us', {
      ...cyclePeriod,
      is: 'From one read to the next; a rate such as "250 kHz" is read as its period.',
    }),
    readWidth: q('500 ns', { ...pulse, is: 'Width of the read pulse.' }),
    gap: q('500 ns', { ...pulse, from: '0 ns', is: 'End of read to start of write.' }),
    writeWidth: q('500 ns', { ...pulse, is: 'Width of the write pulse.' }),
    reads: count({
      from: 1,
      to: 8,
      is: 'Read pulses in a cycle, a gap apart: 2 read, then read again what is left.',
    }).prefault(1),
    writes: count({
      from: 1,
      to: 8,
      is: 'Write pulses in a cycle, a gap apart, one inhibit around all of them.',
    }).prefault(1),
    overhead: q('0 ns', {
      unit: 's',
      from: '0 ns',
      to: '1 ms',
      example: '300 ns',
      is: "The machine's own time in each cycle, in which no pulse flows: address, decoding, latch, register.",
    }),
    stagger: q('0 ns', {
      unit: 's',
      from: '-10 us',
      to: '10 us',
      example: '50 ns',
      is: 'Y starts this much after X (negative: before).',
    }),
    postWriteDisturb: flag('A half-read pulse on X after the write.').prefault(false),
    postWriteGap: q('200 ns', {
      ...pulse,
      from: '0 ns',
      is: 'End of write to the post-write disturb pulse.',
    }),
    inhibitedShare: ratio({
      from: 0,
      to: 1,
      is: 'Of the endless cycles before the programme, the share that kept a ZERO and was inhibited; it sets the baseline of an AC-coupled amplifier. Left out, nothing went before.',
    }).optional(),
  },
);

const at = (what: string): z.ZodNumber =>
  count({ from: 0, to: LARGEST_SIDE - 1, is: `${what}, counted from 0.` });

export const programmeSchema = list(
  record('One cycle.', {
    row: at('Its row (X line)'),
    column: at('Its column (Y line)'),
    lines: choice(['both', 'x', 'y'], 'Lines pulsed: both select a core, one alone disturbs.').prefault(
      'both',
    ),
    read: flag('Is there a read pulse?').prefault(true),
    write: choice(
      ['restore', 'one', 'zero', 'none'],
      'Write back what was stored, a ONE, a ZERO (inhibited), or nothing.',
    ).prefault('restore'),
  }),
  1,
  MOST_CYCLES,
  'Cycles, oldest first; the last one is observed. Left out: one read and restore of the selected core.',
);
